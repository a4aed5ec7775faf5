/**
 * The meaning of a sequence once more, written from the section on timing of the language
 * reference and from nothing else: a list of items becomes a list of ticks, one object a tick. Slow
 * and long on purpose, so that every sentence of the reference has its own few lines. It shares no
 * code with the product, which it is there to be compared with.
 */

export type PlainPace = '~' | number;

export interface PlainGame {
  /** As written: `30`, `60000/1001`. */
  readonly clock: string;
  readonly settle: number | undefined;
  /** As written in the game; undefined where `settle` alone gives it. */
  readonly pace: PlainPace | undefined;
  readonly pause: { readonly open: number; readonly dwell: number; readonly resume: number };
}

/** What is pressed (`''` for a wait), and for how many frames. */
export interface PlainPart {
  readonly held: string;
  readonly n: number;
  /** The high end, where a range is written; the nominal timeline takes the low end. */
  readonly to?: number;
}

/** What stands inside `[ ]`: a window, or several of them in brackets, a phrase or a repeat. */
export type PlainWindow =
  | { readonly kind: 'window'; readonly parts: readonly PlainPart[] }
  | { readonly kind: 'windows'; readonly windows: readonly PlainWindow[]; readonly phrase?: string }
  | { readonly kind: 'repeat'; readonly of: PlainWindow; readonly times: number };

export type PlainItem =
  | ({ readonly kind: 'press' } & PlainPart)
  | { readonly kind: 'wait'; readonly n: number; readonly to?: number }
  | { readonly kind: 'settle' }
  | { readonly kind: 'pause'; readonly windows: readonly PlainWindow[] }
  | {
      readonly kind: 'repeat';
      readonly of: PlainItem;
      readonly times: number;
      readonly to?: number;
    }
  | { readonly kind: 'group'; readonly items: readonly PlainItem[] }
  | { readonly kind: 'phrase'; readonly name: string; readonly items: readonly PlainItem[] }
  | { readonly kind: 'hold'; readonly held: string; readonly items: readonly PlainItem[] }
  | { readonly kind: 'pace'; readonly pace: PlainPace }
  /** Items with `-` between them. */
  | { readonly kind: 'joined'; readonly items: readonly PlainItem[] };

export interface PlainTick {
  readonly held: ReadonlySet<string>;
  readonly pause: boolean;
  readonly runs: boolean;
}

/** A flattened item; a pause has become its bracket, its windows and its other bracket. */
type Atom = {
  /** Whether a `-` (or the inside of a pause) stands in front of it. */
  readonly joined: boolean;
  /** The pace in force at it. */
  readonly pace: PlainPace;
  /** The holds around it; each use of a hold is one of its own. */
  readonly holds: readonly Hold[];
} & (
  | { readonly kind: 'press'; readonly held: string; readonly n: number }
  | { readonly kind: 'wait'; readonly n: number }
  | { readonly kind: 'settle' | 'open' | 'close' }
  | { readonly kind: 'window'; readonly parts: readonly PlainPart[] }
);

interface Hold {
  readonly held: string;
}

interface Tick {
  held: Set<string>;
  pause: boolean;
  runs: boolean;
  dwell: boolean;
}

export function expand(items: readonly PlainItem[], game: PlainGame): PlainTick[] {
  const atoms = flatten(items, game.pace ?? '~');
  const ticks: Tick[] = [];
  const { dwell, resume } = game.pause;

  function emit(n: number, held: string, holds: readonly Hold[], state: Partial<Tick> = {}): void {
    for (let i = 0; i < n; i++) {
      const all = new Set(
        [held, ...holds.map((hold) => hold.held)].flatMap((each) => each.split('')),
      );
      ticks.push({ pause: false, runs: true, dwell: false, ...state, held: all });
    }
  }
  function settle(holds: readonly Hold[]): void {
    let neutral = 0;
    for (let i = ticks.length - 1; i >= 0; i--) {
      const tick = ticks[i] as Tick;
      if (tick.held.size > 0) {
        emit(Math.max(0, (game.settle ?? 0) - neutral), '', holds);
        return;
      }
      if (tick.runs) neutral++;
    }
  }

  for (let i = 0; i < atoms.length; i++) {
    const atom = atoms[i] as Atom;
    const before = atoms[i - 1];
    const after = atoms[i + 1];
    const { holds } = atom;

    if (before !== undefined && !atom.joined && !isWait(before) && !isWait(atom)) {
      const around = holds.filter((hold) => before.holds.includes(hold));
      if (atom.pace === '~') settle(around);
      else emit(atom.pace, '', around);
    }

    if (atom.kind === 'wait') emit(atom.n, '', holds);
    else if (atom.kind === 'settle') settle(holds);
    else if (atom.kind === 'press') {
      // With resume 0 the unpausing tick was the first of the press's frames.
      const begun = resume === 0 && atom.joined && before?.kind === 'close' ? 1 : 0;
      emit(Math.min(begun, atom.n), atom.held, holds, { pause: true });
      emit(atom.n - begun, atom.held, holds);
    } else if (atom.kind === 'open') {
      emit(1, atom.joined && before !== undefined ? heldOn(before) : '', holds, {
        pause: true,
        runs: false,
      });
      emit(dwell, '', holds, { runs: false, dwell: true });
    } else if (atom.kind === 'window') {
      const frames = atom.parts.flatMap((part) => Array<string>(part.n).fill(part.held));
      const first = atom.parts[0]?.held ?? '';
      const last = atom.parts[atom.parts.length - 1]?.held ?? '';
      if (resume === 0) emit(1, frames.shift() ?? first, holds, { pause: true });
      else {
        emit(1, first, holds, { pause: true, runs: false });
        emit(resume - 1, first, holds, { runs: false });
      }
      for (const held of frames) emit(1, held, holds);
      emit(1, last, holds, { pause: true, runs: false });
      emit(dwell, '', holds, { runs: false, dwell: true });
    } else {
      const next = after?.joined === true && after.kind === 'press' ? after : undefined;
      if (resume === 0) {
        if (next === undefined) emit(1, '', holds, { pause: true });
      } else {
        const held = next === undefined ? '' : heldOn(next);
        emit(1, held, holds, { pause: true, runs: false });
        emit(resume - 1, held, holds, { runs: false });
      }
    }
  }
  keepDown(ticks);
  return ticks;
}

/** During a dwell an input stays down that is held on the tick before it and on the tick after. */
function keepDown(ticks: readonly Tick[]): void {
  for (let from = 0; from < ticks.length; from++) {
    if (ticks[from]?.dwell !== true) continue;
    let to = from;
    while (ticks[to]?.dwell === true) to++;
    const before = ticks[from - 1]?.held ?? new Set();
    const after = ticks[to]?.held ?? new Set();
    for (const input of before) {
      if (!after.has(input)) continue;
      for (let i = from; i < to; i++) ticks[i]?.held.add(input);
    }
    from = to;
  }
}

/** What a press holds on its own ticks: the holds around it are held on each of them. */
function heldOn(atom: Atom): string {
  if (atom.kind !== 'press') return '';
  return [atom.held, ...atom.holds.map((hold) => hold.held)].join('');
}

function isWait(atom: Atom): boolean {
  return atom.kind === 'wait' || atom.kind === 'settle';
}

function flatten(items: readonly PlainItem[], start: PlainPace): Atom[] {
  const atoms: Atom[] = [];

  function block(body: readonly PlainItem[], outer: PlainPace, holds: readonly Hold[]): void {
    let pace = outer;
    for (const item of body) {
      if (item.kind === 'pace') pace = item.pace;
      else one(item, pace, holds, false);
    }
  }
  function one(item: PlainItem, pace: PlainPace, holds: readonly Hold[], joined: boolean): void {
    const from = atoms.length;
    switch (item.kind) {
      case 'press':
        atoms.push({ kind: 'press', held: item.held, n: item.n, joined, pace, holds });
        break;
      case 'wait':
        atoms.push({ kind: 'wait', n: item.n, joined, pace, holds });
        break;
      case 'settle':
        atoms.push({ kind: 'settle', joined, pace, holds });
        break;
      case 'pause':
        atoms.push({ kind: 'open', joined, pace, holds });
        for (const parts of windowsOf(item.windows)) {
          atoms.push({ kind: 'window', parts, joined: true, pace, holds });
        }
        atoms.push({ kind: 'close', joined: true, pace, holds });
        break;
      case 'repeat':
        for (let i = 0; i < item.times; i++) one(item.of, pace, holds, false);
        break;
      case 'group':
      case 'phrase':
        block(item.items, pace, holds);
        break;
      case 'hold':
        block(item.items, pace, [...holds, { held: item.held }]);
        break;
      case 'joined':
        item.items.forEach((each, i) => one(each, pace, holds, i > 0));
        break;
      case 'pace':
        break;
    }
    // A `-` in front of an item is one in front of the first of what it flattens to.
    const first = atoms[from];
    if (joined && first !== undefined) atoms[from] = { ...first, joined };
  }
  block(items, start, []);
  return atoms;
}

function windowsOf(windows: readonly PlainWindow[]): (readonly PlainPart[])[] {
  return windows.flatMap((window) => {
    if (window.kind === 'window') return [window.parts];
    if (window.kind === 'windows') return windowsOf(window.windows);
    return Array.from({ length: window.times }, () => windowsOf([window.of])).flat();
  });
}

/** Whether two pause presses stand side by side: the console sees one long press. */
export function overlaps(ticks: readonly PlainTick[], open: number): boolean {
  let since = Infinity;
  let paused = false;
  return ticks.some((tick, t) => {
    since++;
    if (!tick.pause) return false;
    if (ticks[t - 1]?.pause === true) return true;
    // A press that the menu does not take yet is no pause either.
    if (paused && since <= open) return true;
    paused = !paused;
    if (paused) since = 0;
    return false;
  });
}

/** On which ticks a frame runs, told from the pause input alone: the machine of the reference. */
export function replay(pause: readonly boolean[], timing: PlainGame['pause']): boolean[] {
  let pausedAt: number | undefined;
  let runsFrom = 0;
  return pause.map((held, t) => {
    const edge = held && pause[t - 1] !== true;
    if (edge && pausedAt !== undefined) {
      if (t > pausedAt + timing.open) {
        pausedAt = undefined;
        runsFrom = t + timing.resume;
      }
    } else if (edge && t >= runsFrom) pausedAt = t;
    return pausedAt === undefined && t >= runsFrom;
  });
}
