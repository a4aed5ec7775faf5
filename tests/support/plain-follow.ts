/**
 * Positions followed step by step, written from the notation's meaning and from nothing else:
 * every item on its own in one flat list, sets as sets, repeats walked. Slow on purpose.
 */

export type PlainItem =
  | { readonly kind: 'press'; readonly letters: string; readonly frames: number }
  | { readonly kind: 'wait'; readonly frames: number }
  | { readonly kind: 'settle' }
  | { readonly kind: 'pause'; readonly windows: readonly PlainWindow[] }
  | { readonly kind: 'group'; readonly items: readonly PlainItem[] }
  | { readonly kind: 'joined'; readonly items: readonly PlainItem[] }
  /** A hold says its own pace, as nothing settles inside. */
  | { readonly kind: 'hold'; readonly letters: string; readonly pace: number; readonly items: readonly PlainItem[] }
  | { readonly kind: 'repeat'; readonly item: PlainItem; readonly times: number }
  | { readonly kind: 'until'; readonly item: PlainItem; readonly least: number; readonly spot: string }
  | { readonly kind: 'claim'; readonly item: PlainItem; readonly spot: string }; // prettier-ignore

/** `U1-.2` inside a pause: a chain of presses ('' for a wait) with their frames. */
export type PlainWindow = readonly { readonly letters: string; readonly frames: number }[];

export interface PlainRow {
  readonly from: string;
  readonly items: readonly PlainItem[];
  readonly to: string;
  readonly count: number;
}

export interface PlainLog {
  /** `~` or the frames of the pace. */
  readonly pace: '~' | number;
  readonly settle: number | undefined;
  readonly paused: readonly string[];
  readonly rows: readonly PlainRow[];
}

// As text.

export function itemText(item: PlainItem): string {
  switch (item.kind) {
    case 'press':
      return `${item.letters}${item.frames === 1 ? '' : item.frames}`;
    case 'wait':
      return `.${item.frames === 1 ? '' : item.frames}`;
    case 'settle':
      return '~';
    case 'pause':
      return `[${item.windows.map((window) => window.map(({ letters, frames }) => (letters === '' ? `.${frames}` : `${letters}${frames}`)).join('-')).join(' ')}]`; // prettier-ignore
    case 'group':
      return `(${itemsText(item.items)})`;
    case 'joined':
      return item.items.map(itemText).join('-');
    case 'hold':
      return `${item.letters}&(pace .${item.pace} ${itemsText(item.items)})`;
    case 'repeat':
      return `${itemText(item.item)}*${item.times}`;
    case 'until':
      return `${itemText(item.item)}*${item.least}+ until @${item.spot}`;
    case 'claim':
      return `${itemText(item.item)} @${item.spot}`;
  }
}

export function itemsText(items: readonly PlainItem[]): string {
  return items.map(itemText).join(' ');
}

export function logText({ pace, settle, paused, rows }: PlainLog, route: string): string {
  return [
    'game "Tin Pier" {',
    '  clock 60',
    settle === undefined ? '' : `  settle ${settle}`,
    `  pace ${pace === '~' ? '~' : `.${pace}`}`,
    '  inputs { U = y -1 D = y +1 L = x -1 R = x +1 J = jump }',
    '  pause P { open 2 dwell 4 resume 2 }',
    '}',
    ...paused.map((name) => `spot @${name} paused`),
    'seen {',
    ...rows.map(
      ({ from, items, to, count }) => `  @${from} : ${itemsText(items)} -> @${to} x${count}`,
    ),
    '}',
    `route pier ${route}`,
    '',
  ].join('\n');
}

// As one flat list.

/** One thing that is compared, with the neutral frames that it lets pass (-1: none of the kind). */
interface Sign {
  readonly sign: string;
  readonly neutral: number;
  /** Whether the game is paused behind it. */
  readonly pausing: boolean;
}
type Element =
  | ({ readonly is: 'sign' } & Sign)
  | { readonly is: 'claim'; readonly spot: string }
  | { readonly is: 'end'; readonly item: number }
  | { readonly is: 'until'; readonly first: Element[]; readonly again: Element[]; readonly least: number; readonly spot: string }; // prettier-ignore

/** An item laid out, with what the gap to its neighbours depends on. */
interface Laid {
  readonly elements: Element[];
  readonly waitFirst: boolean;
  readonly waitLast: boolean;
  readonly pace: '~' | number;
}

function signOf(sign: string, neutral = -1, pausing = false): Element {
  return { is: 'sign', sign, neutral, pausing };
}

function ordered(letters: string): string {
  return Array.from(letters).sort().join('');
}

/** What is held around an item is part of what it is, and no wait under it is neutral. */
function lay(item: PlainItem, pace: '~' | number, around: string): Laid {
  const mark = around === '' ? '' : `${around}|`;
  const free = around === '';
  switch (item.kind) {
    case 'press':
      return {
        elements: [signOf(`${mark}${ordered(item.letters)}${item.frames}`)],
        waitFirst: false,
        waitLast: false,
        pace,
      };
    case 'wait':
      return {
        elements: [signOf(`${mark}.${item.frames}`, free ? item.frames : -1)],
        waitFirst: true,
        waitLast: true,
        pace,
      };
    case 'settle':
      return { elements: [signOf('~', Infinity)], waitFirst: true, waitLast: true, pace };
    case 'pause': {
      const windows = item.windows.map(
        (window) =>
        signOf(`${mark}<${window.map(({ letters, frames }) => `${ordered(letters)}${frames}`).join('-')}>`, -1, true), // prettier-ignore
      );
      const elements = [signOf(`${mark}[`, -1, true), ...windows, signOf(`${mark}]`)];
      return { elements, waitFirst: false, waitLast: false, pace };
    }
    case 'group':
      return layAll(item.items, pace, around, false);
    case 'joined':
      return layAll(item.items, pace, around, true);
    case 'hold': {
      const held = ordered(Array.from(new Set(around + item.letters)).join(''));
      const inside = layAll(item.items, item.pace, held, false);
      const elements = [signOf(`${mark}${ordered(item.letters)}&(`), ...inside.elements, signOf(`${mark})`)]; // prettier-ignore
      return { ...inside, elements };
    }
    case 'repeat': {
      const once = lay(item.item, pace, around);
      const elements = [...once.elements];
      for (let i = 1; i < item.times; i++) elements.push(...gap(once, once, around), ...once.elements); // prettier-ignore
      return { ...once, elements };
    }
    case 'until': {
      const once = lay(item.item, pace, around);
      const again = [...gap(once, once, around), ...once.elements];
      const { least, spot } = item;
      const element: Element = { is: 'until', first: once.elements, again, least, spot };
      return { ...once, elements: [element] };
    }
    case 'claim': {
      const laid = lay(item.item, pace, around);
      return { ...laid, elements: [...laid.elements, { is: 'claim', spot: item.spot }] };
    }
  }
}

/** Between two items stands the pace of the second, unless one is a wait. */
function gap(before: Laid, after: Laid, around: string): Element[] {
  if (before.waitLast || after.waitFirst || after.pace === 0) return [];
  const mark = around === '' ? '' : `${around}|`;
  if (after.pace === '~') return [signOf('~', Infinity)];
  return [signOf(`${mark}.${after.pace}`, around === '' ? after.pace : -1)];
}

function layAll(
  items: readonly PlainItem[],
  pace: '~' | number,
  around: string,
  joined: boolean,
): Laid {
  const laid = items.map((item) => lay(item, pace, around));
  const [first] = laid;
  const last = laid[laid.length - 1];
  if (first === undefined || last === undefined) throw new Error('nothing to lay out');
  const elements = laid.flatMap((each, i) => {
    const before = laid[i - 1];
    const between = before === undefined || joined ? [] : gap(before, each, around);
    return [...between, ...each.elements];
  });
  return { elements, waitFirst: first.waitFirst, waitLast: last.waitLast, pace: first.pace };
}

/** The items of a route, each with a mark at its end, in front of the claims on it. */
function layRoute(items: readonly PlainItem[], pace: '~' | number): Element[] {
  const laid = items.map((item) => lay(item, pace, ''));
  return laid.flatMap((each, i) => {
    const before = laid[i - 1];
    const claims: Element[] = [];
    const own = [...each.elements];
    // Claims on the item itself, not those inside of its brackets.
    for (let item = items[i]; item?.kind === 'claim'; item = item.item) {
      const claim = own.pop();
      if (claim !== undefined) claims.unshift(claim);
    }
    const end: Element = { is: 'end', item: i };
    return [...(before === undefined ? [] : gap(before, each, '')), ...own, end, ...claims];
  });
}

// Followed.

export const NOWHERE = '?';
type Places = Map<number, Set<string>>;

interface FlatRow {
  readonly from: string;
  readonly signs: readonly Sign[];
  readonly to: string;
  readonly count: number;
}

export interface PlainStep {
  /** Sorted; without the unknown. */
  readonly spots: readonly string[];
  readonly unknown: boolean;
  readonly within: boolean;
}
export interface PlainUntil {
  readonly spot: string;
  readonly arrived: readonly { readonly from: string; readonly times: number }[];
  /** Starts that never arrive though the log goes on; only where each has one outcome. */
  readonly caught: readonly string[];
}
export interface PlainTrace {
  readonly steps: readonly PlainStep[];
  readonly untils: readonly PlainUntil[];
  /** Where the character can be behind all. */
  readonly end: readonly string[];
}

export class PlainFollower {
  private readonly rows: readonly FlatRow[];
  private steps: PlainStep[] = [];
  private untils: PlainUntil[] = [];

  /** `likely`: only the landing that was sighted most often, the first of equals. */
  constructor(
    private readonly log: PlainLog,
    private readonly likely = false,
  ) {
    const flat = log.rows.map(({ from, items, to, count }): FlatRow => {
      let signs = layAll(items, log.pace, '', false).elements.filter((each) => each.is === 'sign');
      if (log.paused.includes(from) && signs[0]?.sign === '[') signs = signs.slice(1);
      if (log.paused.includes(to) && signs[signs.length - 1]?.sign === ']') {
        signs = signs.slice(0, -1);
      }
      return { from, signs, to, count };
    });
    this.rows = flat.filter(({ signs }) => signs.length > 0);
  }

  trace(items: readonly PlainItem[], starts: readonly string[]): PlainTrace {
    this.steps = [];
    this.untils = [];
    const end = this.walk(layRoute(items, this.log.pace), new Map([[0, new Set(starts)]]), nothing);
    const all = new Set([...end.values()].flatMap((set) => [...set]));
    return { steps: this.steps, untils: this.untils, end: [...all].sort() };
  }

  /** Places by how many signs they are beyond the end of the elements. */
  private walk(
    elements: readonly Element[],
    entry: Places,
    behind: () => Iterator<Sign, undefined>,
  ): Places {
    let now = entry;
    for (let i = 0; i < elements.length; i++) {
      const element = elements[i];
      if (element === undefined) continue;
      if (element.is === 'until') {
        now = new Map([[0, new Set([this.until(element, now)])]]);
        continue;
      }
      const here = now.get(0);
      if (element.is === 'claim') {
        if (here !== undefined && here.size > 0) now.set(0, new Set([element.spot]));
        continue;
      }
      if (element.is === 'end') {
        const spots = [...(here ?? [])].filter((each) => each !== NOWHERE).sort();
        const ahead = [...now].some(([at, set]) => at > 0 && set.size > 0);
        this.steps.push({ spots, unknown: here?.has(NOWHERE) === true, within: ahead });
        continue;
      }
      const next: Places = new Map();
      for (const [at, set] of now) if (at > 0) next.set(at - 1, new Set(set));
      for (const place of here ?? []) {
        const signs = lookahead(elements, i, behind);
        for (const { to, length } of this.leads(place, signs)) {
          const set = next.get(length - 1) ?? new Set();
          next.set(length - 1, set.add(to));
        }
      }
      now = next;
    }
    return now;
  }

  private leads(
    place: string,
    signs: () => Iterator<Sign, undefined>,
  ): { to: string; length: number }[] {
    if (place === NOWHERE) return [{ to: NOWHERE, length: 1 }];
    let best: FlatRow[] = [];
    for (const row of this.rows) {
      if (row.from !== place || !this.applies(row, signs())) continue;
      const longest = best[0]?.signs.length ?? 0;
      if (row.signs.length > longest) best = [row];
      else if (row.signs.length === longest) best.push(row);
    }
    if (best.length > 0) {
      const sums = new Map<string, number>();
      for (const { to, count } of best) sums.set(to, (sums.get(to) ?? 0) + count);
      const most = Math.max(...sums.values());
      const [likeliest] = [...sums].filter(([, sum]) => sum === most);
      const taken = this.likely && likeliest !== undefined ? [likeliest[0]] : [...sums.keys()];
      return taken.map((to) => ({ to, length: best[0]?.signs.length ?? 1 }));
    }
    const first = signs().next().value;
    return [{ to: (first?.neutral ?? -1) >= 0 ? place : NOWHERE, length: 1 }];
  }

  /** Whether the signs come next and the character is at rest behind them. */
  private applies(row: FlatRow, signs: Iterator<Sign, undefined>): boolean {
    for (const own of row.signs) if (signs.next().value?.sign !== own.sign) return false;
    const last = row.signs[row.signs.length - 1];
    if (last?.pausing === true) return true;
    let rest = 0;
    let waits = false;
    for (const own of [...row.signs].reverse()) {
      if (own.neutral < 0) break;
      rest += own.neutral;
      waits = true;
    }
    for (;;) {
      if (waits && rest >= (this.log.settle ?? 0)) return true;
      const { value } = signs.next();
      if (value === undefined) return true;
      if (value.neutral < 0) return false;
      rest += value.neutral;
      waits = true;
    }
  }

  /** The player leaves only on seeing the spot. */
  private until(element: Element & { is: 'until' }, entry: Places): string {
    const { first, again, least, spot } = element;
    const endless = (): Iterator<Sign, undefined> => lookahead([], 0, () => repeated(again))();
    let now = entry;
    const round = (i: number, from: Places): Places =>
      this.walk(i === 0 ? first : again, from, endless);
    for (let i = 0; i < least; i++) now = round(i, now);
    const arrived: { from: string; times: number }[] = [];
    const caught: string[] = [];
    for (const [at, set] of now) {
      for (const place of set) {
        if (place === NOWHERE) continue;
        let here: Places = new Map([[at, new Set([place])]]);
        const seen = new Set<string>();
        let lost = false;
        for (let times = least; ; times++) {
          if (here.get(0)?.has(spot) === true) {
            arrived.push({ from: place, times });
            break;
          }
          const key = [...here].map(([k, each]) => `${k}:${[...each].sort().join(' ')}`).sort().join(';'); // prettier-ignore
          if (seen.has(key)) {
            lost ||= here.get(0)?.has(NOWHERE) === true;
            if (!lost) caught.push(place);
            break;
          }
          seen.add(key);
          here = round(times, here);
        }
      }
    }
    const times = (a: { from: string; times: number }, b: typeof a): number =>
      a.from < b.from ? -1 : a.from > b.from ? 1 : a.times - b.times;
    this.untils.push({ spot, arrived: arrived.sort(times), caught: caught.sort() });
    return spot;
  }
}

const nothing = (): Iterator<Sign, undefined> => [][Symbol.iterator]();

/** The signs from an element on; behind an until its body goes on for ever. */
function lookahead(
  elements: readonly Element[],
  from: number,
  behind: () => Iterator<Sign, undefined>,
): () => Iterator<Sign, undefined> {
  return function* () {
    for (let i = from; i < elements.length; i++) {
      const element = elements[i];
      if (element?.is === 'sign') yield element;
      if (element?.is === 'until') {
        yield* signsOf(element.first);
        yield* wrap(repeated(element.again));
      }
    }
    yield* wrap(behind());
    return undefined;
  };
}

function* signsOf(elements: readonly Element[]): Generator<Sign, void> {
  for (const element of elements) if (element.is === 'sign') yield element;
}

function* repeated(elements: readonly Element[]): Generator<Sign, undefined> {
  for (;;) yield* signsOf(elements);
}

function* wrap(iterator: Iterator<Sign, undefined>): Generator<Sign, void> {
  for (let next = iterator.next(); next.done !== true; next = iterator.next()) yield next.value;
}
