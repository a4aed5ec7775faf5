import type { Game } from '../../model/game.js';
import { framesOf } from '../../model/count.js';
import type { Count, Item } from '../../syntax/tree.js';
import type { TraceStep } from '../../positions/trace.js';
import { bodyAt, chainAt, levelsAt, type Level, type Point } from '../items-at.js';
import { measure, type Measured, stepsAlong } from '../measure.js';
import { routeFacts } from '../route-facts.js';
import { code, lengthWords, many, milliseconds, oneLine, plainly, spotWords } from '../words.js';
import type { UnitHover } from './types.js';
import { aboutPhrase, inputWords } from './names.js';

/** An item: what it does, how long it takes, and where in its route it starts and lands. */
export function itemHover(point: Point): UnitHover {
  const { unit, at, scope } = point;
  const body = bodyAt(unit.declaration, at);
  if (body === undefined) return undefined;
  const levels = levelsAt(body.items, at);
  while (levels.length > 1 && levels[levels.length - 1]?.item === undefined) {
    (levels as Level[]).pop();
  }
  const level = levels[levels.length - 1];
  const item = level?.item;
  if (level === undefined || item === undefined || item.kind === 'mark') return undefined;
  if (at > item.end) return undefined;
  // The words of a choose, and what is inside it, have their own.
  const { start, end } = item;
  const outer = levels.length === 1;
  const steps = stepsAlong(point, body, levels)[levels.length - 1];
  const route = unit.declaration.kind === 'route' ? unit.declaration : undefined;
  const facts = route === undefined ? undefined : routeFacts(scope, unit, route);
  const measured =
    outer && facts !== undefined
      ? facts.measured
      : steps === undefined
        ? undefined
        : measure(steps, scope.game);
  const chain = chainAt(level.items, level.before - 1);
  const own = measured?.find((each) => each.item === item) ?? (level.context === 'pause' ? measured?.find((each) => chain.includes(each.item)) : undefined); // prettier-ignore
  const words = [
    `${code(oneLine(unit.text.slice(start, end)))}: ${meaning(item, level, scope.game)}`,
    ...lettersOf(item, scope.game),
    own === undefined ? '' : lengthLine(own, item, outer && facts !== undefined, scope.game),
    item.kind === 'phrase' ? (aboutPhrase(item.name, scope) ?? 'There is no such phrase.') : '',
    cueLine(item, level, levels[levels.length - 2], scope.game),
  ];
  const top = levels[0]?.item;
  if (facts !== undefined && top !== undefined) {
    const { steps: trace, starts } = facts.trace;
    words.push(placeLine(trace, starts, outer ? item : top, item));
  }
  return { span: { start, end }, text: words.filter((part) => part !== '').join('\n\n') };
}

function meaning(item: Item, { context }: Level, game: Game): string {
  const one = alone(item, context, game);
  const { repeat } = item;
  if (repeat === undefined) return `${one}.`;
  const { lo, hi, open, until } = repeat;
  if (open) {
    const end =
      until === undefined ? '' : `, until you see that you stand at ${plainly(`@${until.name}`)}`;
    return `${one}; ${many(lo, 'time')} at least${end}.`;
  }
  return `${one}; ${lo === hi ? many(lo, 'time') : `${lo} to ${many(hi, 'time')}`}.`;
}

function alone(item: Item, context: Level['context'], game: Game): string {
  switch (item.kind) {
    case 'press': {
      if (item.count.hi === 0) return 'goes down on the tick that pauses; no frame of it runs';
      const held = Array.from(item.inputs).join(' and ');
      const window = context === 'pause' ? ', in a window of the pause' : '';
      return `hold ${held} for ${countWords(item.count, game)}${window}`;
    }
    case 'wait':
      return `hold nothing for ${countWords(item.count, game)}`;
    case 'settle':
      return game.settle === undefined
        ? 'wait until the movement has settled; the game says not how long that is'
        : `wait until the movement has settled: up to ${many(game.settle, 'neutral frame')}`;
    case 'group':
      return 'a group';
    case 'hold':
      return `hold ${Array.from(item.inputs).join(' and ')} for the whole of the group`;
    case 'pause':
      return `pause, ${many(windows(item.body), 'window')}, and the game runs again`;
    case 'phrase':
      return 'a phrase';
    case 'pace': {
      const { pace } = item;
      const wait = pace?.kind === 'wait' ? `a wait of ${countWords(pace.count, game)}` : '`~`';
      return pace === undefined
        ? 'a pace that is missing'
        : `from here to the end of the group or block a space is ${wait}`;
    }
    case 'choose': {
      const [first] = item.ways;
      const names = item.ways.map(({ name }) => name.name).join(', ');
      const taken = first === undefined ? '' : `; counted here is ${first.name.name}`;
      return `the player picks one of ${names === '' ? 'no ways' : names}${taken}`;
    }
    case 'mark':
      return '';
  }
}

/** Each chain of joined items is one window. */
function windows(body: readonly Item[]): number {
  return body.filter(({ join, kind }) => join < 0 && kind !== 'mark').length;
}

/** `3 frames`, `3 to 4 frames`, `250 ms, 12 frames`. */
function countWords(count: Count, game: Game): string {
  const { lo, hi } = count;
  const range = (a: number, b: number) =>
    a === b ? many(a, 'frame') : `${a} to ${many(b, 'frame')}`;
  const frames = framesOf(count, game.clock);
  if (count.unit === 'frames') return `${range(lo, hi)} (${lo === hi ? '' : `${milliseconds(lo, game)} to `}${milliseconds(hi, game)})`; // prettier-ignore
  if (frames.ok) return range(frames.lo, frames.hi);
  return `${frames.frames} frames, which is no whole number`;
}

function lettersOf(item: Item, game: Game): string[] {
  if (item.kind !== 'press' && item.kind !== 'hold') return [];
  const known = [...new Set(item.inputs)].flatMap((letter) => game.byLetter.get(letter) ?? []);
  return known.length === 0 ? [] : [known.map((input) => `- ${inputWords(input)}`).join('\n')];
}

function lengthLine({ from, to }: Measured, item: Item, absolute: boolean, game: Game): string {
  const ticks = to.ticks - from.ticks;
  const frames = to.frames - from.frames;
  const length = lengthWords(ticks, frames, game);
  const open = item.repeat?.open === true ? ' in the nominal run' : '';
  if (!absolute || ticks === 0) return `**${length}**${open}`;
  const last = ticks === 1 ? '' : ` to ${to.ticks - 1}`;
  const ran = frames === 0 ? '' : `, ${frames === 1 ? 'frame' : 'frames'} ${from.frames}${frames === 1 ? '' : ` to ${to.frames - 1}`}`; // prettier-ignore
  return `**${length}**${open}: ${ticks === 1 ? 'tick' : 'ticks'} ${from.ticks}${last}${ran}`;
}

/** What can be seen in the pause that ends a window. */
function cueLine(item: Item, level: Level, outer: Level | undefined, game: Game): string {
  if (item.kind !== 'press' || level.context !== 'pause' || game.cues.size === 0) return '';
  const chain = chainAt(level.items, level.before - 1);
  if (chain.length !== 1 || item.repeat !== undefined || item.count.unit !== 'frames') return '';
  let frames = item.count.lo;
  const first = level.items[0] === item;
  const pause = outer?.item;
  const joined = first && pause !== undefined && pause.join >= 0 ? outer?.items[outer.before - 2] : undefined; // prettier-ignore
  // A press that goes on through the pause has run before it.
  if (joined?.kind === 'press' && joined.inputs === item.inputs) frames += joined.count.lo;
  const cue = game.cues.get(frames);
  return cue === undefined ? '' : `${many(frames, 'frame')} after the press: ${plainly(cue)}.`;
}

/** Where the item starts and lands, by the log. */
function placeLine(
  trace: readonly TraceStep[],
  starts: readonly string[] | undefined,
  top: Item,
  item: Item,
): string {
  if (starts === undefined) return '';
  let at = trace.findIndex(({ items }) => items.includes(item));
  if (at < 0) at = trace.findIndex(({ items }) => items.includes(top));
  const step = trace[at];
  if (step === undefined) return '';
  const before = trace[at - 1];
  const from = before === undefined ? spotWords(starts) : spotWords(before.spots, before.unknown);
  if (step.within) return `From ${plainly(from)}; a row of the log reaches across, and says only further on where it lands.`; // prettier-ignore
  const to = spotWords(step.spots, step.unknown);
  const sightings = step.proofs.reduce((sum, proof) => sum + proof.sightings, 0);
  const proof = sightings === 0 ? '' : `, on ${many(sightings, 'sighting')} in ${many(step.proofs.length, 'row')}`; // prettier-ignore
  const route = `From ${plainly(from)} to ${plainly(to)}${proof}.`;
  const times = step.until?.arrived.slice(0, 6).map((each) => `- from ${plainly(`@${each.from}`)}: ${many(each.times, 'time')}`) ?? []; // prettier-ignore
  return [route, times.join('\n')].filter((part) => part !== '').join('\n\n');
}
