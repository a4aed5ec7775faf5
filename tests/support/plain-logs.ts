import fc from 'fast-check';
import type { PlainItem, PlainLog, PlainRow, PlainWindow } from './plain-follow.js';

/** A log, and a route over it that is made of the same few items, so that rows are met often. */
export interface PlainJourney {
  readonly log: PlainLog;
  readonly from: readonly string[];
  readonly items: readonly PlainItem[];
}

const SPOTS = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'];
const press: fc.Arbitrary<PlainItem> = fc
  .tuple(fc.constantFrom('U', 'R', 'UR'), fc.constantFrom(1, 1, 1, 2))
  .map(([letters, frames]) => ({ kind: 'press', letters, frames }));
const wait: fc.Arbitrary<PlainItem> = fc
  .integer({ min: 1, max: 6 })
  .map((frames) => ({ kind: 'wait', frames }));
const part = fc.record({
  letters: fc.constantFrom('U', 'R', ''),
  frames: fc.constantFrom(0, 1, 1),
});
const window: fc.Arbitrary<PlainWindow> = fc.oneof(
  { weight: 4, arbitrary: part.map((one) => [one]) },
  { weight: 1, arbitrary: fc.tuple(part, part) },
);
const pause: fc.Arbitrary<PlainItem> = fc
  .array(window, { maxLength: 2 })
  .map((windows) => ({ kind: 'pause', windows }));
/** Joined to a bracket, a press may last no frame. */
const joined: fc.Arbitrary<PlainItem> = fc.oneof(
  fc.tuple(press, press).map(([a, b]): PlainItem => ({ kind: 'joined', items: [a, b] })),
  fc.tuple(fc.constantFrom(0, 1), pause).map(([frames, second]): PlainItem => ({
    kind: 'joined',
    items: [{ kind: 'press', letters: 'U', frames }, second],
  })),
  fc
    .tuple(pause, press)
    .map(([first, second]): PlainItem => ({ kind: 'joined', items: [first, second] })),
);
const hold: fc.Arbitrary<PlainItem> = fc
  .record({
    letters: fc.constantFrom('D', 'L'),
    pace: fc.integer({ min: 1, max: 3 }),
    items: fc.array(fc.oneof({ weight: 4, arbitrary: press }, { weight: 1, arbitrary: wait }), {
      minLength: 1,
      maxLength: 2,
    }),
  })
  .map((made): PlainItem => ({ kind: 'hold', ...made }));

const simple = fc.oneof(
  { weight: 10, arbitrary: press },
  { weight: 3, arbitrary: pause },
  { weight: 2, arbitrary: joined },
  { weight: 1, arbitrary: hold },
);

/** What goes into repeats: a group where a count would stand by its last part only. */
function whole(item: PlainItem): PlainItem {
  return item.kind === 'joined' || item.kind === 'claim' || item.kind === 'repeat'
    ? { kind: 'group', items: [item] }
    : item;
}

function claimed(item: fc.Arbitrary<PlainItem>, spots: readonly string[]) {
  return fc.oneof(
    { weight: 8, arbitrary: item },
    {
      weight: 1,
      arbitrary: fc
        .tuple(item, fc.constantFrom(...spots))
        .map(([each, spot]): PlainItem => ({ kind: 'claim', item: each, spot })),
    },
  );
}

export interface JourneyOptions {
  /** The most times of one repeat. */
  readonly times: number;
  /** Several landings for the same items. */
  readonly spread: boolean;
}

export function journeys({ times, spread }: JourneyOptions): fc.Arbitrary<PlainJourney> {
  const kinds = fc.record({
    spots: fc.integer({ min: 3, max: 8 }),
    paused: fc.integer({ min: 0, max: 2 }),
    timing: fc.oneof(
      fc.record({ settle: fc.constantFrom(3, 5), pace: fc.constantFrom('~' as const, 1, 4, 6) }),
      fc.record({ settle: fc.constant(undefined), pace: fc.constantFrom(1, 4) }),
    ),
    pool: fc.array(simple, { minLength: 1, maxLength: 4 }),
  });
  return kinds.chain(({ spots, paused, timing, pool }) => {
    const names = SPOTS.slice(0, spots);
    const still = names.slice(names.length - Math.min(paused, names.length - 2));
    const settles = timing.settle !== undefined;
    const gap: fc.Arbitrary<PlainItem> = settles
      ? fc.oneof(wait, fc.constant<PlainItem>({ kind: 'settle' }))
      : wait;
    const known = fc.constantFrom(...pool);
    const mostly = fc.oneof({ weight: 6, arbitrary: known }, { weight: 1, arbitrary: simple });
    // Under a hold the log's rows for the items alone prove nothing, claims or not.
    const held = fc
      .array(claimed(fc.oneof(known, wait), names), { minLength: 1, maxLength: 3 })
      .map((items): PlainItem => ({ kind: 'hold', letters: 'D', pace: 2, items }));
    const any = fc.oneof(
      { weight: 14, arbitrary: mostly },
      { weight: 2, arbitrary: gap },
      { weight: 1, arbitrary: held },
    );
    const row: fc.Arbitrary<PlainRow> = fc.record({
      from: fc.constantFrom(...names),
      items: fc.oneof(
        { weight: 5, arbitrary: known.map((item) => [item]) },
        { weight: 2, arbitrary: fc.array(fc.oneof({ weight: 4, arbitrary: known }, { weight: 1, arbitrary: gap }), { minLength: 2, maxLength: 4 }) },
      ),
      to: fc.constantFrom(...names),
      count: fc.integer({ min: 1, max: 9 }),
    }); // prettier-ignore
    const rows = fc.array(row, { minLength: spots, maxLength: 6 * spots }).map((all) => {
      if (spread) return all;
      const seen = new Set<string>();
      return all.filter(({ from, items }) => {
        const key = `${from} ${JSON.stringify(items)}`;
        return !seen.has(key) && seen.add(key);
      });
    });
    const few = fc.array(claimed(any, names), { minLength: 1, maxLength: 3 });
    const body = fc.oneof(
      mostly,
      few.map((items): PlainItem => ({ kind: 'group', items })),
    );
    const count = fc.oneof(fc.integer({ min: 2, max: 9 }), fc.integer({ min: 2, max: times }));
    const repeat = fc
      .tuple(body, count)
      .map(([item, n]): PlainItem => ({ kind: 'repeat', item: whole(item), times: n }));
    const twice = fc
      .tuple(repeat, few, fc.integer({ min: 2, max: 5 }))
      .map(([inner, items, n]): PlainItem => ({
        kind: 'repeat',
        item: { kind: 'group', items: [inner, ...items] },
        times: n,
      }));
    const until = fc
      .tuple(body, fc.integer({ min: 1, max: 4 }), fc.constantFrom(...names))
      .map(([item, least, spot]): PlainItem => ({ kind: 'until', item: whole(item), least, spot }));
    const one = fc.oneof(
      { weight: 8, arbitrary: any },
      { weight: 3, arbitrary: repeat },
      { weight: 1, arbitrary: twice },
      { weight: 1, arbitrary: until },
    );
    return fc.record({
      log: rows.map((made): PlainLog => ({ ...timing, paused: still, rows: made })),
      from: fc.uniqueArray(fc.constantFrom(...names), { minLength: 1, maxLength: names.length }),
      items: fc.array(claimed(one, names), { minLength: 1, maxLength: 6 }),
    });
  });
}
