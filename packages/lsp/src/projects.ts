import type { Settings } from '@tiptoe/notation-core';
import type { FileText } from './host.js';
import { Project } from './project.js';
import {
  type Configuration,
  foldersAbove,
  merged,
  NO_CONFIGURATION,
  SETTINGS_FILE,
  folderFor,
} from './settings.js';
import type { Store } from './store.js';
import type { Urgency, Wanted, Work } from './work.js';

/** All notes of a session by their settings: each `tiptoe.json` has a project, and so has its lack. */
export class Projects {
  /** What the client has set, by folder of the workspace; '' for what lies in none. */
  readonly configurations = new Map<string, Configuration>();
  readonly #projects = new Map<string, Project>();
  /** Each note and its project; undefined until that is known. */
  readonly #members = new Map<string, Project | undefined>();
  readonly #nearest = new Map<string, string>();
  /** Counts how often settings have changed: what was looked up before says nothing. */
  #generation = 0;

  constructor(
    readonly store: Store,
    readonly work: Work,
    readonly read: (path: string) => FileText | Promise<FileText>,
  ) {}

  get notes(): Iterable<string> {
    return this.#members.keys();
  }

  has(note: string): boolean {
    return this.#members.has(note);
  }

  add(note: string): void {
    if (!this.#members.has(note)) this.#members.set(note, undefined);
  }

  remove(note: string): void {
    const project = this.#members.get(note);
    this.#members.delete(note);
    if (project?.entries.delete(note) === true) project.touch();
    this.touch(note);
  }

  /** The text of a file has changed, or whether it is there. */
  touch(_path: string): void {
    for (const project of this.#projects.values()) project.touch();
  }

  /** Settings may have changed, or which file holds them. */
  settingsChanged(): void {
    this.#generation++;
    this.#nearest.clear();
    this.#projects.clear();
    for (const note of this.#members.keys()) this.#members.set(note, undefined);
  }

  /** The settings files that are in force somewhere. */
  get settingsFiles(): ReadonlySet<string> {
    return new Set([...this.#nearest.values()].filter((path) => path !== ''));
  }

  get all(): Iterable<Project> {
    return this.#projects.values();
  }

  projectOf(note: string): Project | undefined {
    return this.#members.get(note);
  }

  configurationOf(path: string): Configuration {
    const folder = folderFor(path, this.configurations.keys()) ?? '';
    return this.configurations.get(folder) ?? NO_CONFIGURATION;
  }

  /** Brings every project up to date with the texts. Files that are missing are read on the way. */
  async settle(urgency: Urgency, wanted?: Wanted): Promise<void> {
    for (let again = true; again;) {
      again = false;
      for (const [note, project] of this.#members) {
        if (project !== undefined) continue;
        await this.#assign(note);
        again = true;
      }
      for (const project of this.#projects.values()) {
        const missing = await this.work.run(project.settle(), urgency, wanted);
        for (const path of missing) await this.load(path);
        if (missing.length > 0) again = true;
      }
    }
  }

  /** Reads a file unless its text is known. */
  async load(path: string): Promise<FileText> {
    for (;;) {
      const known = this.store.text(path);
      if (known !== undefined) return known;
      const { forgotten } = this.store;
      const text = await this.read(path);
      // It may have been opened meanwhile, or have changed on the disk.
      if (forgotten !== this.store.forgotten || this.store.text(path) !== undefined) continue;
      this.store.put(path, text);
      return text;
    }
  }

  async #assign(note: string): Promise<void> {
    const generation = this.#generation;
    const file = await this.#settingsFileOf(note);
    const settings = await this.#settings(file, note);
    if (generation !== this.#generation || !this.#members.has(note)) return;
    const folder = folderFor(note, this.configurations.keys()) ?? '';
    const key = JSON.stringify([file, folder]);
    const project =
      this.#projects.get(key) ?? new Project(settings, (path) => this.store.text(path));
    this.#projects.set(key, project);
    this.#members.set(note, project);
    project.entries.add(note);
    project.touch();
  }

  async #settings(file: string, note: string): Promise<Settings> {
    const configuration = this.configurationOf(note);
    if (file === '') return configuration.settings;
    const read = await this.load(file);
    return 'text' in read ? merged(read.text, configuration) : configuration.settings;
  }

  /** The nearest `tiptoe.json` from the folder of a note upwards, or ''. */
  async #settingsFileOf(note: string): Promise<string> {
    const passed: string[] = [];
    let found = '';
    for (const folder of foldersAbove(note)) {
      const known = this.#nearest.get(folder);
      if (known !== undefined) {
        found = known;
        break;
      }
      passed.push(folder);
      const path = `${folder}/${SETTINGS_FILE}`;
      if ('text' in (await this.load(path))) {
        found = path;
        break;
      }
    }
    for (const folder of passed) this.#nearest.set(folder, found);
    return found;
  }
}
