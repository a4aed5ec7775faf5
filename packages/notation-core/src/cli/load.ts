import { isAbsolute, relative, resolve, sep } from 'node:path';
import { type Program, type Reader, loadProgram } from '../model/program.js';
import { MAX_SIZE, type ReadText, readText } from './io.js';

export interface LoadOptions {
  /** Bytes a file may have. */
  readonly maxSize?: number;
  /** Texts that stand for files, by their path in the program: standard input has the name of a file. */
  readonly instead?: ReadonlyMap<string, ReadText>;
}

/** A program read from disk. */
export interface Loaded {
  readonly program: Program;
  /** Paths of the program whose text began with a byte-order mark. */
  readonly marked: ReadonlySet<string>;
}

/**
 * Reads notes and what they use. `paths` are as the user gave them; files of the program go by
 * `notePath`. What cannot be read is in `program.unreadable` with its reason.
 */
export function loadNotes(paths: readonly string[], options: LoadOptions = {}): Loaded {
  const { maxSize = MAX_SIZE, instead } = options;
  const marked = new Set<string>();
  const read: Reader = (path) => {
    const found = instead?.get(path) ?? readText(path, maxSize);
    if ('text' in found && found.bom) marked.add(path);
    return found;
  };
  return { program: loadProgram(notePaths(paths), read), marked };
}

/**
 * Paths as a program names its files: with `/`, and relative to the working folder, so that one file
 * has one name however it was given. Where every path was given from the root, they stay so.
 */
export function notePaths(paths: readonly string[]): string[] {
  const base = paths.every((path) => isAbsolute(path)) ? undefined : process.cwd();
  return [...new Set(paths.map((path) => notePath(path, base)))];
}

function notePath(path: string, base: string | undefined): string {
  const full = resolve(path);
  const shown = base === undefined ? full : relative(base, full);
  return sep === '\\' ? shown.replaceAll('\\', '/') : shown;
}
