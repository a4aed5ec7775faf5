import type { Choices } from '../model/resolve.js';
import type { Declared, Scope } from '../model/scope.js';
import type { Item, RouteDeclaration } from '../syntax/tree.js';
import { nearest } from '../text/suggest.js';
import type { CommandOption } from './command.js';
import { Trouble } from './exit.js';

/** For every command that looks at routes. */
export const ROUTE_OPTIONS: readonly CommandOption[] = [
  { flags: '--route <name>', summary: 'this route only; every route of the file unless given' },
  {
    flags: '--choose <place=way>',
    summary: 'the way to take at a choose; the first unless given',
    many: true,
  },
];

/** The routes that a file itself declares, or the named one. Throws Trouble for a name that is none. */
export function routesOf(scope: Scope, name: string | undefined): Declared<RouteDeclaration>[] {
  const own: Declared<RouteDeclaration>[] = [];
  for (const { unit } of scope.file.tree.units) {
    const { declaration } = unit;
    if (declaration.kind === 'route') own.push({ declaration, unit, file: scope.file });
  }
  if (name === undefined) return own;
  const found = own.filter(({ declaration }) => declaration.name?.name === name);
  if (found.length > 0) return found;
  const used = scope.routes.get(name);
  if (used !== undefined) return [used];
  throw new Trouble('--route', `${scope.file.path} has no route ${name}`, wayOut(name, scope.routes.keys())); // prettier-ignore
}

/** `--choose finish=fast …` checked against the places and ways of the routes. */
export function choicesOf(
  given: readonly string[],
  routes: readonly Declared<RouteDeclaration>[],
  scope: Scope,
): Choices {
  const choices = new Map<string, string>();
  if (given.length === 0) return choices;
  const places = new Map<string, Set<string>>();
  const phrases = new Set<string>();
  for (const { declaration } of routes) collect(declaration.body, places, scope, phrases);
  for (const each of given) {
    const [, place, way] = /^([^=]+)=(.+)$/.exec(each) ?? [];
    if (place === undefined || way === undefined) {
      throw new Trouble('--choose', `"${each}" is not PLACE=WAY`, 'Write --choose finish=fast, for example.'); // prettier-ignore
    }
    const ways = places.get(place);
    if (ways === undefined) {
      throw new Trouble('--choose', `there is no choose ${place} in these routes`, wayOut(place, places.keys())); // prettier-ignore
    }
    if (!ways.has(way)) {
      throw new Trouble('--choose', `choose ${place} has no way ${way}`, wayOut(way, ways));
    }
    choices.set(place, way);
  }
  return choices;
}

/** Phrases are looked into once each, however often they are used. */
function collect(
  items: readonly Item[],
  places: Map<string, Set<string>>,
  scope: Scope,
  phrases: Set<string>,
): void {
  for (const item of items) {
    if (item.kind === 'choose') {
      const name = item.name?.name ?? '';
      const ways = places.get(name) ?? new Set<string>();
      places.set(name, ways);
      for (const way of item.ways) {
        ways.add(way.name.name);
        collect(way.body, places, scope, phrases);
      }
    } else if (item.kind === 'group' || item.kind === 'pause' || item.kind === 'hold') {
      collect(item.body, places, scope, phrases);
    } else if (item.kind === 'phrase' && !phrases.has(item.name)) {
      phrases.add(item.name);
      const phrase = scope.phrases.get(item.name);
      if (phrase !== undefined) collect(phrase.declaration.body, places, scope, phrases);
    }
  }
}

function wayOut(name: string, known: Iterable<string>): string {
  const all = [...known];
  const near = nearest(name, all);
  if (near !== undefined) return `Did you mean ${near}?`;
  return all.length === 0 ? 'There are none.' : `There are: ${all.slice(0, 20).join(', ')}.`;
}
