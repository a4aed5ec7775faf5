import { existsSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { DEFAULT_SETTINGS, type Settings, readSettings } from '../../rules/settings.js';
import { LineIndex } from '../../text/lines.js';
import { Trouble } from '../exit.js';
import { readText } from '../io.js';

const NAME = 'tiptoe.json';

/** The settings files of a check: the nearest `tiptoe.json` from a note's folder upwards, or one for all. */
export class SettingsFiles {
  readonly #nearest = new Map<string, string | undefined>();
  readonly #read = new Map<string, Settings>();

  constructor(
    readonly forAll: string | undefined,
    readonly maxSize: number,
  ) {}

  /** Every settings file that was read. */
  get paths(): readonly string[] {
    return [...this.#read.keys()];
  }

  /** Notes by their settings file (undefined: the defaults), in the order of the first note of each. */
  groups(notes: readonly string[]): Map<string | undefined, string[]> {
    const groups = new Map<string | undefined, string[]>();
    for (const note of notes) {
      const config = this.forAll ?? this.#nearestTo(dirname(resolve(note)));
      const group = groups.get(config);
      if (group === undefined) groups.set(config, [note]);
      else group.push(note);
    }
    return groups;
  }

  /** The settings in a file. Throws Trouble where it cannot be read or says what it must not. */
  read(path: string | undefined): Settings {
    if (path === undefined) return DEFAULT_SETTINGS;
    const known = this.#read.get(path);
    if (known !== undefined) return known;
    const found = readText(path, this.maxSize);
    if ('reason' in found) throw new Trouble(shown(path), found.reason);
    const { settings, errors } = readSettings(found.text);
    const [error] = errors;
    if (error !== undefined) {
      const { line, column } = new LineIndex(found.text).positionAt(error.span.start);
      throw new Trouble(`${shown(path)}:${line}:${column}`, error.title, error.wayOut);
    }
    this.#read.set(path, settings);
    return settings;
  }

  #nearestTo(folder: string): string | undefined {
    if (this.#nearest.has(folder)) return this.#nearest.get(folder);
    const here = join(folder, NAME);
    const above = dirname(folder);
    const found = existsSync(here) ? here : above === folder ? undefined : this.#nearestTo(above);
    this.#nearest.set(folder, found);
    return found;
  }
}

function shown(path: string): string {
  const short = relative(process.cwd(), path);
  return short.startsWith('..') ? path : short;
}
