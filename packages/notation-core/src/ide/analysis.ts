import type { Program, SourceFile } from '../model/program.js';
import { type Scope, scopeOf } from '../model/scope.js';
import { checkFile } from '../rules/check.js';
import { DEFAULT_SETTINGS, type Settings } from '../rules/settings.js';
import type { Placed, Unit } from '../syntax/tree.js';
import type { Finding } from '../text/finding.js';

/**
 * One consistent view of the files, for the features of an editor: what is read in it belongs
 * together. Offsets that features take and give count from the start of a file.
 */
export interface Analysis {
  readonly program: Program;
  readonly settings: Settings;
  file(path: string): SourceFile | undefined;
  scope(file: SourceFile): Scope;
  findings(file: SourceFile): readonly Finding[];
  /** Where a unit stands. */
  place(unit: Unit): { readonly file: SourceFile; readonly start: number } | undefined;
}

/** A stretch of a file. */
export interface FileSpan {
  readonly path: string;
  readonly start: number;
  readonly end: number;
}

/** The unit that holds an offset, its blank and comment lines in front included. */
export function unitAt(file: SourceFile, offset: number): Placed | undefined {
  const { units } = file.tree;
  let low = 0;
  let high = units.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((units[middle]?.start ?? 0) <= offset) low = middle;
    else high = middle;
  }
  return units[low];
}

/** A view of a program that does not change; a server keeps one that does (`workspace.ts`). */
export function analysisOf(program: Program, settings: Settings = DEFAULT_SETTINGS): Analysis {
  const scopes = new Map<SourceFile, Scope>();
  const found = new Map<SourceFile, readonly Finding[]>();
  let places: Map<Unit, { file: SourceFile; start: number }> | undefined;
  return {
    program,
    settings,
    file: (path) => program.files.get(path),
    scope(file) {
      const scope = scopes.get(file) ?? scopeOf(program, file);
      scopes.set(file, scope);
      return scope;
    },
    findings(file) {
      const findings = found.get(file) ?? checkFile(program, file, settings);
      found.set(file, findings);
      return findings;
    },
    place(unit) {
      if (places === undefined) {
        places = new Map();
        for (const file of program.files.values()) {
          for (const { unit: each, start } of file.tree.units) places.set(each, { file, start });
        }
      }
      return places.get(unit);
    },
  };
}
