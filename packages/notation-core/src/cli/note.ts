import type { Program, SourceFile } from '../model/program.js';
import { type Scope, scopeOf } from '../model/scope.js';
import { Trouble } from './exit.js';
import { loadNotes } from './load.js';
import type { Options } from './options.js';

/** One note with what it uses, and what its names mean. */
export interface OpenNote {
  readonly program: Program;
  readonly file: SourceFile;
  readonly scope: Scope;
}

/** Opens the one note of a command. Throws Trouble where it cannot be read. */
export function openNote(path: string, options: Options): OpenNote {
  const { program } = loadNotes([path], { maxSize: options.maxSize });
  const [refused] = program.unreadable;
  if (refused !== undefined) throw new Trouble(refused.path, refused.reason);
  const file = program.files.get(program.entries[0] ?? '');
  if (file === undefined) throw new Trouble(path, 'it cannot be read');
  return { program, file, scope: scopeOf(program, file) };
}
