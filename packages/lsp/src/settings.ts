import { DEFAULT_SETTINGS, readSettings, type Settings } from '@tiptoe/notation-core';
import { folderOf, isInside } from './uris.js';

export const SETTINGS_FILE = 'tiptoe.json';

/** The section `tiptoe` of a client's configuration. */
export interface Configuration {
  /** Rules and limits, as `tiptoe.json` has them, for what no such file says. */
  readonly settings: Settings;
  /** Kinds of inlay hints that are turned off. */
  readonly hints: Readonly<Record<string, boolean>>;
  /** What is wrong with it, in words. */
  readonly errors: readonly string[];
}

export const NO_CONFIGURATION: Configuration = {
  settings: DEFAULT_SETTINGS,
  hints: {},
  errors: [],
};

/** Reads what a client gives, which may be anything. */
export function readConfiguration(given: unknown): Configuration {
  if (!isObject(given)) return NO_CONFIGURATION;
  const { rules = {}, limits = {}, hints } = given;
  const { settings, errors } = readSettings(
    JSON.stringify({ rules: present(rules), limits: present(limits) }),
  );
  const kinds = isObject(hints) ? Object.entries(hints) : [];
  return {
    settings,
    hints: Object.fromEntries(kinds.filter((pair): pair is [string, boolean] => typeof pair[1] === 'boolean')), // prettier-ignore
    errors: errors.map(({ title, wayOut }) => `tiptoe: ${title}. ${wayOut}`),
  };
}

/** Clients send null for what is not set. */
function present(value: unknown): unknown {
  if (!isObject(value)) return value ?? {};
  return Object.fromEntries(Object.entries(value).filter(([, each]) => each !== null));
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** The settings file says what it says; the configuration fills in the rest. */
export function merged(text: string, { settings }: Configuration): Settings {
  const own = readSettings(text).settings;
  const said = saidLimits(text);
  const limits = { ...settings.limits };
  for (const name of Object.keys(limits) as (keyof typeof limits)[]) {
    if (said.has(name)) Object.assign(limits, { [name]: own.limits[name] });
  }
  return { rules: new Map([...settings.rules, ...own.rules]), limits };
}

function saidLimits(text: string): ReadonlySet<string> {
  try {
    const read: unknown = JSON.parse(text);
    return new Set(isObject(read) && isObject(read['limits']) ? Object.keys(read['limits']) : []);
  } catch {
    return new Set();
  }
}

/** The folders from that of a note upwards, as far as settings are looked for. */
export function* foldersAbove(path: string): Generator<string> {
  // Only a path from a root has folders: an unsaved document has none.
  for (let folder = folderOf(path); ; folder = folderOf(folder)) {
    if (folder === '' && !path.startsWith('/')) return;
    if (/^[A-Za-z][\w+.-]*:\/{0,2}$/.test(folder)) return;
    yield folder;
    if (folder === '' || /^[A-Za-z]:$/.test(folder) || /^[\w+.-]+:\/\/[^/]*$/.test(folder)) return;
  }
}

/** The innermost of some folders that holds a path. */
export function folderFor(path: string, folders: Iterable<string>): string | undefined {
  let best: string | undefined;
  for (const folder of folders) {
    if (isInside(path, folder) && folder.length >= (best?.length ?? 0)) best = folder;
  }
  return best;
}

export function isSettings(path: string): boolean {
  return path === SETTINGS_FILE || path.endsWith(`/${SETTINGS_FILE}`);
}
