import type { Placed, Unit } from '../syntax/tree.js';
import type { Analysis, FileSpan } from './analysis.js';
import { misfitLow } from './fuzzy.js';
import { type NoteSymbol, type SymbolKind, symbolsOf } from './symbols.js';

/** A symbol of any file; `start` and `end` are those of its name. */
export interface FoundSymbol extends FileSpan {
  readonly kind: SymbolKind;
  readonly name: string;
  /** The route of a choice, the choice of a way, the game of an input; 'seen' for a spot of the log. */
  readonly within: string;
}

/** As many as anybody looks through. */
const MOST = 500;

/**
 * The symbols of all files that fit what was typed, the best first. A query that begins with `@`
 * asks for spots. Spots that only the log introduces are found in their first row.
 */
export function workspaceSymbols(analysis: Analysis, query: string, most = MOST): FoundSymbol[] {
  const typed = query.trim();
  const wanted = typed.startsWith('@') ? typed.slice(1) : typed;
  const low = wanted.toLowerCase();
  const fitting: { symbol: Flat; score: number; path: string; placed: Placed }[] = [];
  const declared = new Set<string>();
  const logged = new Set<string>();
  const take = (symbol: Flat, path: string, placed: Placed): void => {
    const score = symbol.bare === wanted ? 0 : misfitLow(low, symbol.low);
    if (score !== undefined) fitting.push({ symbol, score, path, placed });
  };
  const fits = ({ kind }: Flat) => typed === wanted || kind === 'spot';
  for (const { path, tree } of analysis.program.files.values()) {
    for (const placed of tree.units) {
      for (const symbol of flatOf(placed.unit)) {
        if (symbol.kind === 'spot' && symbol.within === '') declared.add(symbol.bare);
        if (symbol.within !== LOG && fits(symbol)) take(symbol, path, placed);
      }
    }
  }
  for (const { path, tree } of analysis.program.files.values()) {
    logged.clear();
    for (const placed of tree.units) {
      if (placed.unit.declaration.kind !== 'seen') continue;
      for (const symbol of flatOf(placed.unit)) {
        if (declared.has(symbol.bare) || logged.has(symbol.bare)) continue;
        logged.add(symbol.bare);
        if (symbol.within === LOG) take(symbol, path, placed);
      }
    }
  }
  fitting.sort(
    (a, b) => a.score - b.score || compare(a.symbol.name, b.symbol.name) || compare(a.path, b.path),
  );
  return fitting.slice(0, most).map(({ symbol, path, placed }) => ({
    path,
    start: placed.start + symbol.start,
    end: placed.start + symbol.end,
    kind: symbol.kind,
    name: symbol.name,
    within: symbol.within,
  }));
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** What a spot of the log stands in. */
const LOG = 'seen';

/**
 * A symbol of a unit, the offsets those of its name in the unit. `bare` is the name without `@`,
 * `low` the same in small letters.
 */
interface Flat extends Omit<FoundSymbol, 'path'> {
  readonly bare: string;
  readonly low: string;
}

const known = new WeakMap<Unit, readonly Flat[]>();

function flatOf(unit: Unit): readonly Flat[] {
  let found = known.get(unit);
  if (found === undefined) known.set(unit, (found = [...flat(unit)]));
  return found;
}

function* flat(unit: Unit): Generator<Flat> {
  for (const symbol of symbolsOf({ start: 0, unit })) yield* named(symbol, '');
  if (unit.declaration.kind !== 'seen') return;
  const spots = new Set<string>();
  for (const { from, to } of unit.declaration.rows) {
    for (const spot of to === undefined ? [from] : [from, to]) {
      if (spots.has(spot.name)) continue;
      spots.add(spot.name);
      const { start, end, name } = spot;
      const low = name.toLowerCase();
      yield { kind: 'spot', name: `@${name}`, bare: name, low, within: LOG, start, end };
    }
  }
}

function* named({ kind, name, at, children }: NoteSymbol, within: string): Generator<Flat> {
  // What has no name of its own is not looked for by it.
  if (kind !== 'seen' && kind !== 'cue' && !name.startsWith('(')) {
    const bare = name.startsWith('@') ? name.slice(1) : name;
    const low = bare.toLowerCase();
    yield { kind, name, bare, low, within, start: at.start, end: at.end };
  }
  for (const child of children) yield* named(child, name);
}
