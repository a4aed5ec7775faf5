import type { Program } from '../../model/program.js';
import { checkProgram } from '../../rules/check.js';
import { describe } from '../../rules/registry.js';
import { LineIndex } from '../../text/lines.js';
import type { ReadText } from '../io.js';
import { loadNotes } from '../load.js';
import type { Checked, Shown, Unchecked } from '../show/shown.js';
import { SettingsFiles } from './settings.js';

/** What to check. */
export interface Request {
  /** Paths of the program (`notePaths`). */
  readonly files: readonly string[];
  /** Texts that stand for files. */
  readonly instead: ReadonlyMap<string, ReadText>;
  /** What could not be used before the check began. */
  readonly unchecked: readonly Unchecked[];
  /** Bytes a file may have. */
  readonly maxSize: number;
  /** The settings of all notes, in place of the nearest of each. */
  readonly config: string | undefined;
}

export interface CheckedNotes extends Checked {
  /** Every file that was read, used ones and settings included. */
  readonly read: readonly string[];
  readonly sources: ReadonlyMap<string, Source>;
}

/** A note as it was read. */
export interface Source extends ReadText {
  readonly path: string;
}

/**
 * Checks notes from disk, those of one settings file together, so that a file that several of them
 * use is read and parsed once. Throws Trouble where settings cannot be used.
 */
export function checkNotes(request: Request): CheckedNotes {
  const settings = new SettingsFiles(request.config, request.maxSize);
  const findings: Shown[] = [];
  const files: string[] = [];
  const unchecked = [...request.unchecked];
  const sources = new Map<string, Source>();
  const lines = new Map<string, LineIndex>();
  const linesOf = (path: string): LineIndex | undefined => {
    const source = sources.get(path);
    if (source === undefined) return undefined;
    const known = lines.get(path) ?? new LineIndex(source.text);
    lines.set(path, known);
    return known;
  };
  for (const [config, paths] of settings.groups(request.files)) {
    const { program, marked } = loadNotes(paths, request);
    unchecked.push(...program.unreadable);
    keepSources(program, marked, sources);
    files.push(...program.entries);
    for (const finding of checkProgram(program, settings.read(config)).findings) {
      const of = linesOf(finding.file);
      if (of !== undefined) findings.push({ finding, message: describe(finding), lines: of });
    }
  }
  return {
    files,
    findings,
    unchecked,
    linesOf,
    sources,
    read: [...sources.keys(), ...settings.paths],
  };
}

function keepSources(program: Program, marked: ReadonlySet<string>, sources: Map<string, Source>) {
  for (const { path, tree } of program.files.values()) {
    sources.set(path, { path, text: tree.text, bom: marked.has(path) });
  }
}
