import {
  type Finding,
  loadProgram,
  parse,
  reparse,
  type Settings,
  type SourceFile,
} from '@tiptoe/notation-core';
import { type Analysis, analysisOf } from '@tiptoe/notation-core/ide/analysis';
import type { FileText } from './host.js';
import { difference } from './store.js';
import type { Steps } from './work.js';

type Tree = SourceFile['tree'];

/** The notes that share their settings, and everything they use. */
export class Project {
  readonly entries = new Set<string>();
  readonly #trees = new Map<string, Tree>();
  #analysis: Analysis | undefined;
  #settings: Settings;

  constructor(
    settings: Settings,
    readonly text: (path: string) => FileText | undefined,
  ) {
    this.#settings = settings;
  }

  set settings(settings: Settings) {
    this.#settings = settings;
    this.#analysis = undefined;
  }

  /** A text or the set of notes has changed. */
  touch(): void {
    this.#analysis = undefined;
  }

  /** Whether the analysis is of the texts as they are now. */
  get current(): Analysis | undefined {
    return this.#analysis;
  }

  /** Brings the analysis up to date. Returns files that it misses because nobody read them yet. */
  *settle(): Steps<readonly string[]> {
    if (this.#analysis !== undefined) return [];
    const missing: string[] = [];
    const program = loadProgram(
      [...this.entries],
      (path) => {
        const text = this.text(path);
        if (text === undefined) missing.push(path);
        return text ?? { reason: 'it is being read' };
      },
      (path, text) => this.#treeOf(path, text),
    );
    yield;
    for (const path of this.#trees.keys()) if (!program.files.has(path)) this.#trees.delete(path);
    if (missing.length > 0) return missing;
    this.#analysis = analysisOf(program, this.#settings);
    return [];
  }

  #treeOf(path: string, text: string): Tree {
    const known = this.#trees.get(path);
    if (known?.text === text) return known;
    const { start, end, text: written } = difference(known?.text ?? '', text);
    const tree = known === undefined ? parse(text) : reparse(known, { span: { start, end }, text: written }); // prettier-ignore
    this.#trees.set(path, tree);
    return tree;
  }

  /** The findings of a note; undefined where the project does not hold it. */
  *findings(analysis: Analysis, path: string): Steps<readonly Finding[] | undefined> {
    const file = analysis.file(path);
    if (file === undefined) return undefined;
    yield;
    return analysis.findings(file);
  }
}
