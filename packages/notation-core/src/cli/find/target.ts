import type { Scope } from '../../model/scope.js';
import { knownOf } from '../../positions/context.js';
import { MOST_POINTS, sizeOf, type Target } from '../../positions/find.js';
import { type Fraction, compare, floor, fraction, mul, parseDecimal } from '../../text/fraction.js';
import { nearest } from '../../text/suggest.js';
import { Trouble } from '../exit.js';

/** `@a,@b` or `anywhere` as spots of the log. Throws Trouble for a name that is none. */
export function startsAsked(text: string | undefined, goal: Target, scope: Scope): number[] {
  if (text === undefined || text.trim() === '') {
    throw new Trouble('--from', 'it has to say where the character stands', 'Write --from @a, --from @a,@b or --from anywhere.'); // prettier-ignore
  }
  const { log } = knownOf(scope);
  if (text.trim() === 'anywhere') {
    const end = goal.kind === 'spot' ? goal.spot : -1;
    const all = log.starts.filter((spot) => spot !== end && log.paused[spot] !== true);
    if (all.length > 0) return all;
    throw new Trouble('--from', 'the log has no row to start with');
  }
  const spots = text.split(',').map((name) => spotAsked('--from', name, scope));
  return [...new Set(spots)];
}

/** `@b`, `(x, y)` or `(x1, y1) to (x2, y2)`. Throws Trouble for anything else. */
export function targetAsked(text: string | undefined, scope: Scope): Target {
  if (text === undefined || text.trim() === '') {
    throw new Trouble('--to', 'it has to say where the character is to stand', 'Write --to @b, for example.'); // prettier-ignore
  }
  if (!text.trim().startsWith('(')) {
    return { kind: 'spot', spot: spotAsked('--to', text, scope) };
  }
  const { grounds } = knownOf(scope);
  if (grounds.grounds.length === 0) {
    throw new Trouble('--to', 'coordinates need a ground, and these notes have none', 'Name a spot: --to @b.'); // prettier-ignore
  }
  const [, first = '', second] = /^\s*\(([^()]*)\)\s*(?:to\s*\(([^()]*)\)\s*)?$/.exec(text) ?? [];
  const a = corner(first, text);
  const b = second === undefined ? a : corner(second, text);
  if (a.length !== b.length) {
    throw new Trouble('--to', `the corners of ${text} have ${a.length} and ${b.length} numbers`);
  }
  const unit = fraction(10n ** BigInt(grounds.scale));
  const units = (value: Fraction, up: boolean): number => {
    const exact = mul(value, unit);
    const low = floor(exact);
    return Number(up && exact.den !== 1n ? low + 1n : low);
  };
  const sorted = a.map((value, axis) => {
    const other = b[axis] ?? value;
    return compare(value, other) <= 0 ? [value, other] : [other, value];
  });
  const low = sorted.map(([least = fraction(0n)]) => units(least, true));
  const high = sorted.map(([, most = fraction(0n)]) => units(most, false));
  if (low.some((value, axis) => value > (high[axis] ?? value))) {
    const places = grounds.scale === 0 ? 'whole numbers' : `${grounds.scale} decimals at most`;
    throw new Trouble('--to', `the spots and moves of these notes have ${places}: nothing lies there`); // prettier-ignore
  }
  if (!(sizeOf({ low, high }) <= MOST_POINTS)) {
    throw new Trouble('--to', `the window has more than ${MOST_POINTS} points`, 'Name a smaller one.'); // prettier-ignore
  }
  return { kind: 'window', low, high };
}

function corner(text: string, whole: string): Fraction[] {
  const values = text.split(',').map((value) => parseDecimal(value.trim()));
  const known = values.filter((value) => value !== undefined);
  if (known.length === values.length && values.length >= 2 && values.length <= 3) return known;
  throw new Trouble('--to', `"${whole}" is no place`, 'Write --to "(412, 88)" or --to "(400, 80) to (420, 90)".'); // prettier-ignore
}

function spotAsked(option: string, text: string, scope: Scope): number {
  const { log } = knownOf(scope);
  const name = text.trim().replace(/^@/, '');
  const found = log.find(name);
  if (found !== undefined) return found;
  const near = nearest(name, log.names);
  const hint = near !== undefined ? `Did you mean @${near}?` : log.names.length === 0 ? 'These notes have no spots.' : `There are: ${log.names.slice(0, 12).map((each) => `@${each}`).join(', ')}${log.names.length > 12 ? ', …' : ''}.`; // prettier-ignore
  throw new Trouble(option, `there is no spot @${name} in these notes`, hint);
}
