import type { TextEdit } from '../text/edit.js';
import { classAt, SPACE } from './chars.js';
import { NotationParser } from './grammar.js';
import type { ScannedToken } from './scanner.js';
import { cuts } from './split.js';
import { DECLARATION_WORDS } from './tokens.js';
import type { Declaration, Placed, Problem, Tree, Unit } from './tree.js';

let shared: NotationParser | undefined;

/**
 * The one parser. Building it costs milliseconds, so it is built at the first parse; the
 * grammar is validated by a test instead of at every start.
 */
function parser(): NotationParser {
  shared ??= new NotationParser({ skipValidations: true });
  return shared;
}

/** The tree of a text. Never throws and never gives up: what cannot be read is a problem. */
export function parse(text: string): Tree {
  return { text, units: parseUnits(text, 0, text.length) };
}

function parseUnits(text: string, from: number, to: number): Placed[] {
  const units: Placed[] = [];
  const places = cuts(text, from, to);
  for (let k = 0; k < places.length; k++) {
    const place = places[k];
    if (place === undefined) continue;
    const end = places[k + 1]?.at ?? to;
    let at = place.at;
    let meant = place.meant;
    while (at < end) {
      const { unit, stop } = readUnit(text, at, end, meant);
      units.push({ start: at, unit });
      at = stop;
      meant = undefined;
    }
  }
  if (units.length === 0) {
    const declaration = broken(0, 0);
    units.push({ start: from, unit: { text: '', declaration, comments: [], problems: [] } });
  }
  return units;
}

/** The unit that begins at `from`, and where it stops: at `to`, or at another declaration. */
function readUnit(
  text: string,
  from: number,
  to: number,
  meant: string | undefined,
): { unit: Unit; stop: number } {
  const p = parser();
  const { build, scanner } = p;
  build.reset(text, from);
  scanner.begin(text, from, to, meant);
  const declaration = readDeclaration(p, meant);
  scanner.drain();
  const { stop, comments } = scanner;
  // The blank rest of a line belongs to the declaration on it.
  const own = text.slice(from, stop);
  return { unit: { text: own, declaration, comments, problems: sorted(build.problems) }, stop };
}

function readDeclaration(p: NotationParser, meant: string | undefined): Declaration {
  const { build, scanner } = p;
  if (scanner.atEnd) {
    const end = scanner.stop - build.origin;
    return broken(end, end);
  }
  const first = scanner.token();
  if (meant !== undefined) {
    const written = build.written(first.startOffset, first.end);
    build.report('misspelled-word', first.startOffset, first.end, { written, meant });
  } else if (DECLARATION_WORDS.get(first.image) !== first.tokenType) {
    scanner.drain();
    build.strayText(
      { ...first, end: scanner.lastEnd },
      'a declaration: use, game, hands, spot, let, seen, ground, route or rescue',
    );
    return broken(first.startOffset, scanner.lastEnd);
  }
  p.result = undefined;
  p.input = [];
  p.declaration();
  const read = p.result as Declaration | undefined;
  for (const error of p.errors) {
    const at = error.token as Partial<ScannedToken>;
    const start = at.startOffset ?? 0;
    if (Number.isNaN(start)) continue;
    const behind = read !== undefined && start >= read.end;
    const instead = behind
      ? `a new declaration, since the ${read.kind} in front has ended`
      : 'the rest of the declaration';
    build.stray2(start, at.end ?? start, instead);
  }
  if (read !== undefined) return read;
  scanner.drain();
  return broken(first.startOffset, scanner.lastEnd);
}

function broken(start: number, end: number): Declaration {
  return { kind: 'broken', start, end };
}

function sorted(problems: Problem[]): Problem[] {
  if (problems.length < 2) return problems;
  return problems.sort((a, b) => a.start - b.start || a.end - b.end);
}

/**
 * The tree after edits to its text. Only the units that an edit touches are parsed again;
 * every other unit is the same object as before.
 */
export function reparse(tree: Tree, edit: TextEdit): Tree {
  const { units } = tree;
  const { start, end } = edit.span;
  const text = tree.text.slice(0, start) + edit.text + tree.text.slice(end);
  const shift = edit.text.length - (end - start);
  let first = lastStartingBefore(units, start);
  let last = lastStartingBefore(units, end + 1);
  // A unit that begins where the edit begins: what is written may still belong to the one in front.
  if (first > 0 && (units[first]?.start ?? 0) >= start) first--;
  if (last + 1 < units.length && (units[last + 1]?.start ?? 0) <= end) last++;
  let fresh: Placed[] = [];
  for (let settled = false; !settled;) {
    // Only a unit that begins a line with its own word begins there whatever stands around it.
    while (first > 0 && !standsAlone(tree.text, units[first])) first--;
    while (last + 1 < units.length && !standsAlone(tree.text, units[last + 1])) last++;
    const from = units[first]?.start ?? 0;
    const to = (units[last + 1]?.start ?? tree.text.length) + shift;
    fresh = parseUnits(text, from, to);
    settled = true;
    if (first > 0 && !standsAlone(text, fresh[0])) {
      first--;
      settled = false;
    }
    // Blank lines and comments belong to the declaration behind them.
    if (last + 1 < units.length && endsInTrivia(text, from, to)) {
      last++;
      settled = false;
    }
  }
  const after = units
    .slice(last + 1)
    .map((placed) => (shift === 0 ? placed : { start: placed.start + shift, unit: placed.unit }));
  return { text, units: [...units.slice(0, first), ...fresh, ...after] };
}

/** Whether a unit begins a line with a declaration's word, so that nothing in front can claim it. */
function standsAlone(text: string, placed: Placed | undefined): boolean {
  if (placed === undefined || !startsLine(text, placed)) return false;
  const { declaration, problems } = placed.unit;
  return declaration.kind !== 'broken' && !problems.some(({ code }) => code === 'misspelled-word');
}

/** Whether the last line of a stretch of whole lines is blank or a comment. */
function endsInTrivia(text: string, from: number, to: number): boolean {
  let at = to;
  if (at > from && text.charCodeAt(at - 1) === 10) at--;
  if (at > from && text.charCodeAt(at - 1) === 13) at--;
  while (at > from && text.charCodeAt(at - 1) !== 10 && text.charCodeAt(at - 1) !== 13) at--;
  while (at < to && classAt(text, at) === SPACE) at++;
  return at >= to || text.charCodeAt(at) === 35;
}

function startsLine(text: string, placed: Placed): boolean {
  if (placed.start === 0) return true;
  const before = text.charCodeAt(placed.start - 1);
  return before === 10 || before === 13;
}

function lastStartingBefore(units: readonly Placed[], offset: number): number {
  let low = 0;
  let high = units.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((units[middle]?.start ?? 0) < offset) low = middle;
    else high = middle;
  }
  return low;
}
