import fc from 'fast-check';
import type { PlainGame, PlainItem, PlainPart, PlainWindow } from './plain-expansion.js';
import { PLAIN_INPUTS } from './plain-notation.js';

/** A game, and a sequence that can be played in it as it is written. */
export interface PlainCase {
  readonly game: PlainGame;
  readonly items: readonly PlainItem[];
}

const games: fc.Arbitrary<PlainGame> = fc
  .record({
    clock: fc.constantFrom('30', '50', '60', '60000/1001', '25/2'),
    settle: fc.option(fc.integer({ min: 0, max: 6 }), { nil: undefined }),
    pace: fc.oneof(
      fc.constant(undefined),
      fc.constant('~' as const),
      fc.integer({ min: 1, max: 3 }),
    ),
    open: fc.integer({ min: 0, max: 3 }),
    more: fc.integer({ min: 0, max: 3 }),
    resume: fc.integer({ min: 0, max: 3 }),
  })
  .map(({ clock, settle, pace, open, more, resume }) => ({
    clock,
    settle,
    // Without settle there is nothing for a pace of ~ to wait for, and every space needs a pace.
    pace: settle === undefined && typeof pace !== 'number' ? 2 : pace,
    pause: { open, dwell: Math.max(1, open + more), resume },
  }));

const held = fc
  .subarray([...PLAIN_INPUTS], { minLength: 1, maxLength: 2 })
  .map((all) => all.join(''));
const small = fc.oneof(
  { weight: 3, arbitrary: fc.constant(1) },
  { weight: 2, arbitrary: fc.integer({ min: 2, max: 9 }) },
);
/** How much more the high end of a range is; mostly there is no range. */
const more = fc.oneof(
  { weight: 8, arbitrary: fc.constant(undefined) },
  { weight: 1, arbitrary: fc.integer({ min: 1, max: 3 }) },
);
const ranged = fc
  .record({ n: small, more })
  .map(({ n, more }) => (more === undefined ? { n } : { n, to: n + more }));
const press = fc.record({ held, count: ranged }).map(({ held, count }) => ({ held, ...count }));
const pressItem = press.map((part): PlainItem => ({ kind: 'press', ...part }));
const waitItem = ranged.map((count): PlainItem => ({ kind: 'wait', ...count }));

/**
 * One window with `resume + frames >= 2`. A part of no frames stands first only where the unpausing
 * tick is no frame: with `resume 0` that tick would be the first frame of another part.
 */
function windowOf(resume: number): fc.Arbitrary<PlainWindow> {
  const part = fc.record({
    held: fc.oneof(held, held, fc.constant('')),
    n: fc.integer({ min: 0, max: 3 }),
  });
  return fc.array(part, { minLength: 1, maxLength: 3 }).map((parts: PlainPart[]) => {
    const fit = parts.map((each, i) => {
      const first = i === 0 && resume === 0;
      return (first || each.held === '') && each.n === 0 ? { ...each, n: 1 } : each;
    });
    const frames = fit.reduce((sum, each) => sum + each.n, 0);
    const [head, ...rest] = fit as [PlainPart, ...PlainPart[]];
    const lacking = Math.max(0, 2 - resume - frames);
    return { kind: 'window', parts: [{ ...head, n: head.n + lacking }, ...rest] };
  });
}

function pauseOf(resume: number): fc.Arbitrary<PlainItem> {
  const one = windowOf(resume);
  const several = (deep: number): fc.Arbitrary<PlainWindow> => {
    if (deep === 0) return one;
    const inner = several(deep - 1);
    const group = fc
      .record({
        windows: fc.array(inner, { minLength: 1, maxLength: 2 }),
        phrase: fc.option(fc.constantFrom('shift', 'nudge'), { nil: undefined }),
      })
      .map(({ windows, phrase }): PlainWindow => {
        return phrase === undefined
          ? { kind: 'windows', windows }
          : { kind: 'windows', windows, phrase };
      });
    const repeat = fc
      .record({ of: inner, times: fc.integer({ min: 1, max: 3 }) })
      .map(({ of, times }): PlainWindow => ({ kind: 'repeat', of, times }));
    return fc.oneof({ weight: 6, arbitrary: one }, group, repeat);
  };
  return fc
    .array(several(2), { minLength: 0, maxLength: 3 })
    .map((windows): PlainItem => ({ kind: 'pause', windows }));
}

/** What may stand around: a hold has no use for ~, so inside one every pace is a number. */
interface Around {
  readonly resume: number;
  /** Whether the game declares settle. */
  readonly settles: boolean;
  readonly holding: boolean;
}

function chainOf(around: Around): fc.Arbitrary<PlainItem> {
  const { resume } = around;
  const link = fc.oneof(
    { weight: 5, arbitrary: pressItem },
    { weight: 4, arbitrary: pauseOf(resume) },
    // A wait cannot be joined, so a joined hold begins and ends with something else.
    { weight: 1, arbitrary: holdOf(around, 0, pressItem) },
  );
  // A press of no frames goes down on the very tick that pauses. Where the tick that unpauses is a
  // frame, no such press follows it: it would have to be in two places.
  const zero = held.map((letters): PlainItem => ({ kind: 'press', held: letters, n: 0 }));
  const opening = fc
    .tuple(zero, pauseOf(resume), fc.array(link, { maxLength: 2 }))
    .map(([first, second, rest]) => [first, second, ...rest]);
  const middle = fc
    .tuple(fc.array(link, { minLength: 1, maxLength: 2 }), zero, pauseOf(resume))
    .filter(([links]) => resume > 0 || links[links.length - 1]?.kind === 'press')
    .map(([links, second, last]) => [...links, second, last]);
  return fc
    .oneof(
      { weight: 5, arbitrary: fc.array(link, { minLength: 2, maxLength: 4 }) },
      { weight: 2, arbitrary: opening },
      { weight: 1, arbitrary: middle },
    )
    .map((items): PlainItem => ({ kind: 'joined', items }));
}

/** `edge`: what the first and the last item have to be, where that matters. */
function holdOf(
  around: Around,
  deep: number,
  edge?: fc.Arbitrary<PlainItem>,
): fc.Arbitrary<PlainItem> {
  const inside = { ...around, holding: true };
  const free = fc.array(itemOf(inside, deep), { minLength: 1, maxLength: 3 });
  const items =
    edge === undefined
      ? free
      : fc.oneof(
          edge.map((one) => [one]),
          fc.tuple(edge, free, edge).map(([first, rest, last]) => [first, ...rest, last]),
        );
  return fc
    .record({ held, pace: fc.integer({ min: 1, max: 3 }), items })
    .map(({ held, pace, items }): PlainItem => {
      const plain = items.length === 1 && !around.settles;
      return { kind: 'hold', held, items: plain ? items : [{ kind: 'pace', pace }, ...items] };
    });
}

function itemOf(around: Around, deep: number): fc.Arbitrary<PlainItem> {
  const settles = around.settles && !around.holding;
  const flat: fc.WeightedArbitrary<PlainItem>[] = [
    { weight: 8, arbitrary: pressItem },
    { weight: 2, arbitrary: waitItem },
    { weight: 3, arbitrary: pauseOf(around.resume) },
    { weight: settles ? 2 : 0, arbitrary: fc.constant<PlainItem>({ kind: 'settle' }) },
  ];
  if (deep === 0) return fc.oneof(...flat);
  const body = blockOf(around, deep - 1);
  return fc.oneof(
    ...flat,
    { weight: 3, arbitrary: chainOf(around) },
    { weight: 2, arbitrary: holdOf(around, deep - 1) },
    { weight: 2, arbitrary: body.map((items): PlainItem => ({ kind: 'group', items })) },
    {
      weight: 1,
      arbitrary: fc
        .record({ name: fc.constantFrom('shuffle', 'sway'), items: body })
        .map(({ name, items }): PlainItem => ({ kind: 'phrase', name, items })),
    },
    {
      weight: 3,
      arbitrary: fc
        .record({
          of: itemOf(around, deep - 1),
          times: fc.integer({ min: 1, max: 4 }),
          more,
        })
        .map(({ of, times, more }): PlainItem => {
          return more === undefined
            ? { kind: 'repeat', of, times }
            : { kind: 'repeat', of, times, to: times + more };
        }),
    },
  );
}

function blockOf(around: Around, deep: number): fc.Arbitrary<PlainItem[]> {
  const numbers = fc.integer({ min: 1, max: 3 });
  const pace = (
    around.settles && !around.holding ? fc.oneof(numbers, fc.constant('~' as const)) : numbers
  ).map((to): PlainItem => ({ kind: 'pace', pace: to }));
  const item = itemOf(around, deep);
  const paced = fc.tuple(pace, item).map(([first, second]) => [first, second]);
  return fc
    .array(fc.oneof({ weight: 8, arbitrary: item.map((one) => [one]) }, { weight: 1, arbitrary: paced }), {
      minLength: 1,
      maxLength: 4,
    })
    .map((parts) => parts.flat()); // prettier-ignore
}

/** Making these costs more than drawing from them. */
const known = new Map<string, fc.Arbitrary<PlainItem[]>>();

function sequencesOf({ pause: { resume }, settle }: PlainGame): fc.Arbitrary<PlainItem[]> {
  const settles = settle !== undefined;
  const key = `${resume} ${settles}`;
  let made = known.get(key);
  if (made === undefined) {
    made = blockOf({ resume, settles, holding: false }, 3);
    known.set(key, made);
  }
  return made;
}

/** Games and sequences over them, in every form that the notation has. */
export const plainCases: fc.Arbitrary<PlainCase> = games.chain((game) =>
  sequencesOf(game).map((items) => ({ game, items })),
);
