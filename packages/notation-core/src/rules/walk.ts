import type { Game, PauseTiming } from '../model/game.js';
import type {
  GroupStep,
  Held,
  HoldStep,
  PressStep,
  RepeatStep,
  Sequence,
  Source,
  Step,
  WindowStep,
} from '../model/steps.js';
import { toNumber } from '../text/fraction.js';
import type { Limits } from './limits.js';
import type { Place } from './place.js';
import { type Shape, shapeOf } from './shape.js';

/** What hears of each moment of a walk. */
export interface Listeners {
  readonly begin: readonly ((walk: Walk) => void)[];
  readonly rise: readonly ((walk: Walk) => void)[];
  readonly open: readonly ((walk: Walk) => void)[];
  readonly window: readonly ((walk: Walk) => void)[];
}

/** What was found inside a phrase when it was walked by itself, to be said where it is used. */
export interface Inside {
  readonly rule: string;
  readonly place: Place;
  readonly params: Readonly<Record<string, string | number | boolean>>;
}

/** Where a head walk began: it ends where nothing before that can matter any more. */
interface Head {
  readonly now: number;
  readonly presses: number;
}

/** Everything that what comes next can depend on. */
interface Saved {
  readonly last: Held;
  readonly previous: Source | undefined;
  readonly previousAll: Held;
  readonly previousNow: number;
  readonly gap: number;
  readonly neutral: number;
  readonly waited: boolean;
  readonly settled: boolean;
  readonly sinceClose: number;
  readonly floor: number;
  readonly touch: PressStep | undefined;
  readonly heldFor: number;
  readonly closing: boolean;
  readonly closeOuter: Held;
  readonly inPause: boolean;
  readonly sincePress: number;
  readonly pressAlone: number;
  readonly now: number;
  readonly onsets: readonly number[];
}

/** Leaves that a head walk looks at before it gives up: what matters is within a few ticks. */
const HEAD = 64;
const FOUND_INSIDE = 32;
/** For neutral frames: no input was held before; or nothing is known of what was. */
const NONE = -1;
const UNKNOWN = -2;
const NO_PAUSE: PauseTiming = { letter: '', open: 0, dwell: 1, resume: 1 };

/**
 * One pass over steps, in the order in which they are played, that tells the rules what happens.
 *
 * Steps are a graph: a phrase used a thousand times is one object, and a repeat stands for as
 * many passes as it likes. The walk goes through each phrase and each repeated body once in full,
 * and at every further use only through its head, as far as what came before can still matter
 * (the last press, and a fraction of a second). So its cost goes with the text.
 */
export class Walk {
  readonly shape: Shape;
  readonly pause: PauseTiming;
  /** Ticks a second. */
  readonly clock: number;

  // The moment at hand.
  /** What begins: a press, a part of a window, or a hold. */
  kind: 'press' | 'part' | 'hold' = 'press';
  at: Source;
  /** What it holds itself; all that is down then, the holds around it included; those alone. */
  held: Held = 0;
  all: Held = 0;
  outer: Held = 0;
  lo = 0;
  hi = 0;
  /** What is down on the tick before. */
  before: Held = 0;
  /** Whether the pause input goes down on the same tick. */
  withPause = false;
  inPause = false;

  // What came before it.
  /** The press in front in the same run of the game; nothing where a pause stands between. */
  previous: Source | undefined;
  previousAll: Held = 0;
  /** The tick on which it went down. */
  previousNow = 0;
  /** Ticks since it ended. */
  gap = 0;
  /** A pace or a wait stands between; a `~` does. */
  waited = false;
  settled = false;
  /** Ticks since the pause input last went down to leave a pause. */
  sinceClose = Infinity;
  /** The tick at hand, from anywhere; when each input last went down, if not before `floor`. */
  now = 0;
  floor = 0;
  readonly onsets: number[];

  // Inside a pause.
  /** Frames of the window that has ended. */
  frames = 0;
  /** Frames since the last press began, with and without the stretch before the pause; -1: none. */
  sincePress = -1;
  pressAlone = -1;

  /** Where the unit that is checked uses the phrase that the walk is in. */
  usedAt: Place | undefined;
  /** Takes what is found while a phrase is walked by itself. */
  inside: Inside[] | undefined;

  private last: Held = 0;
  /** Neutral frames since an input was held. */
  private neutral = NONE;
  private touch: PressStep | undefined;
  /** Frames of the press that touches, those of a press that it goes on from included. */
  private heldFor = 0;
  /** The last thing was `]`, and what is joined to it is still to come; the holds around it. */
  private closing = false;
  private closeOuter: Held = 0;
  private holdAt: Source | undefined;
  private presses = 0;
  private head: Head | undefined;
  /** A phrase that is walked by itself: what is found in its head depends on what comes before. */
  private alone: { readonly since: Head; readonly found: Inside[] } | undefined;
  private left = 0;
  private halted = false;
  private readonly phrases = new Map<Sequence, Map<Held, { out: Saved; found: Inside[] }>>();

  constructor(
    readonly game: Game,
    readonly limits: Limits,
    private readonly listeners: Listeners,
    /** Ticks after which no two presses are too close for anybody. */
    private readonly memory: number,
    private readonly told: (found: Inside, usedAt: Place) => void,
    /** Whether a finding inside a phrase is not what the phrase's own check says. */
    private readonly isNews: (found: Inside) => boolean,
  ) {
    this.shape = shapeOf(game);
    this.pause = game.pause ?? NO_PAUSE;
    this.clock = toNumber(game.clock);
    this.onsets = game.inputs.map(() => -Infinity);
    this.at = { unit: game.unit, item: NOWHERE };
  }

  /**
   * Walks a sequence. `begins`: nothing was held before it, as at the start of a route; of a
   * phrase or a row that is not known.
   */
  run(sequence: Sequence, begins: boolean): void {
    this.outer = 0;
    this.usedAt = undefined;
    // What is found must not depend on how much was walked before, as rounding would make it.
    this.now = 0;
    this.blank();
    if (begins) this.neutral = NONE;
    this.steps(sequence.steps);
  }

  private blank(): void {
    this.last = this.outer;
    this.previous = undefined;
    this.gap = 0;
    this.neutral = UNKNOWN;
    this.waited = false;
    this.settled = false;
    this.sinceClose = Infinity;
    this.floor = this.now;
    this.touch = undefined;
    this.closing = false;
    this.inPause = false;
    this.sincePress = -1;
    this.pressAlone = -1;
    for (let i = 0; i < this.onsets.length; i++) this.onsets[i] = -Infinity;
  }

  private steps(steps: readonly Step[]): void {
    for (const step of steps) {
      if (this.halted) return;
      switch (step.kind) {
        case 'press':
          this.press(step);
          break;
        case 'wait':
          if (!step.written && step.hi === 0 && this.game.pace === undefined) this.forget();
          this.wait(step.lo);
          break;
        case 'settle':
          this.settle();
          break;
        case 'open':
          this.openPause(step.source);
          break;
        case 'window':
          this.window(step);
          break;
        case 'close':
          this.closePause();
          break;
        case 'repeat':
          this.repeat(step);
          break;
        case 'hold':
          this.hold(step);
          break;
        case 'group':
          this.group(step);
          break;
        case 'claim':
          break;
      }
    }
  }

  /** Counts a leaf of a head walk, and ends the walk where nothing before it matters. */
  private leaf(): void {
    const { head } = this;
    if (head !== undefined && (this.forgot(head) || --this.left <= 0)) this.halted = true;
    this.leaveHead();
  }

  /** From where its past is forgotten, what is found in a phrase holds at each of its uses. */
  private leaveHead(): void {
    const { alone } = this;
    if (alone === undefined || !this.forgot(alone.since)) return;
    this.inside = alone.found;
    this.alone = undefined;
  }

  private forgot(since: Head): boolean {
    return this.presses > since.presses && this.now - since.now >= this.memory;
  }

  private begin(): void {
    for (const listener of this.listeners.begin) listener(this);
  }

  private rise(): void {
    const fresh = this.all & ~this.before;
    if (fresh === 0) return;
    for (const listener of this.listeners.rise) listener(this);
    for (let rest = fresh; rest !== 0; rest &= rest - 1) {
      this.onsets[31 - Math.clz32(rest & -rest)] = this.now;
    }
  }

  private press(step: PressStep): void {
    const { held, lo } = step;
    this.kind = 'press';
    this.at = step.source;
    this.held = held;
    this.all = this.outer | held;
    this.lo = lo;
    this.hi = step.hi;
    // A dwell lets go of what is not held on both of its sides.
    this.before = this.closing ? this.last & this.all : this.last;
    // A press of no frames is one that touches a pause: it goes down on the pausing tick.
    this.withPause = this.closing || lo === 0;
    this.begin();
    this.rise();
    const goesOn = this.touch !== undefined && this.previousAll === this.all;
    this.heldFor = (goesOn ? this.heldFor : 0) + (lo === step.hi ? lo : NaN);
    this.last = this.all;
    this.previous = step.source;
    this.previousAll = this.all;
    this.previousNow = this.now;
    this.pass(lo);
    this.gap = 0;
    this.neutral = 0;
    this.waited = false;
    this.settled = false;
    this.touch = step;
    this.closing = false;
    this.presses++;
    this.leaf();
  }

  private pass(ticks: number): void {
    this.now += ticks;
    this.sinceClose += ticks;
    this.gap += ticks;
  }

  private wait(ticks: number): void {
    this.closeAlone();
    if (ticks > 0) {
      if ((this.outer & ~this.last) !== 0) this.holdRises(false);
      this.last = this.outer;
    }
    this.pass(ticks);
    if (this.outer === 0 && this.neutral >= 0) this.neutral += ticks;
    this.waited = true;
    this.touch = undefined;
    this.closing = false;
    this.leaf();
  }

  /** `]` with no press joined to it: with resume 0 its tick is a neutral frame by itself. */
  private closeAlone(): void {
    if (!this.closing) return;
    this.closing = false;
    this.last = this.closeOuter;
    if (this.pause.resume > 0) return;
    this.pass(1);
    if (this.closeOuter !== 0) this.gap = 0;
    else if (this.neutral >= 0) this.neutral++;
  }

  /** A gap whose length nothing says: whatever came before it proves nothing. */
  private forget(): void {
    this.previous = undefined;
    this.floor = this.now + 1;
  }

  /** A hold goes down on a tick of its group that holds nothing else. */
  private holdRises(withPause: boolean, all = this.outer): void {
    this.at = this.holdAt ?? this.at;
    this.held = this.outer;
    this.all = all;
    this.before = this.last;
    this.withPause = withPause;
    this.rise();
  }

  private settle(): void {
    this.closeAlone();
    const wanted = this.game.settle ?? 0;
    if (this.game.settle === undefined) this.forget();
    let ticks = this.neutral === NONE ? 0 : wanted;
    if (this.neutral >= 0) ticks = Math.max(0, wanted - this.neutral);
    else if (this.neutral === UNKNOWN) this.sinceClose = Infinity;
    this.wait(ticks);
    this.settled = true;
  }

  private openPause(source: Source): void {
    const joined = this.touch;
    this.closeAlone();
    // What a joined press holds stays down for the pausing tick, and the holds around it do.
    const down = joined === undefined ? this.outer : this.last | this.outer;
    if ((this.outer & ~this.last) !== 0) this.holdRises(true, down);
    this.last = down;
    this.at = source;
    this.sincePress = joined === undefined ? -1 : this.heldFor;
    this.pressAlone = this.sincePress;
    for (const listener of this.listeners.open) listener(this);
    if (this.last !== 0) this.neutral = 0;
    this.bracket(true);
    this.pass(1 + this.pause.dwell);
    this.leaf();
  }

  /** Nothing reaches across a pause: whatever came before can no longer be too close. */
  private bracket(inPause: boolean): void {
    this.inPause = inPause;
    this.forget();
    this.touch = undefined;
    this.closing = false;
  }

  private window(step: WindowStep): void {
    const { parts } = step;
    let frames = 0;
    for (const part of parts) frames += part.lo;
    let first = true;
    let pressed = false;
    for (let i = 0; i < parts.length; i++) {
      const part = parts[i];
      if (part === undefined) continue;
      const { held, lo, hi } = part;
      // A part of no frames is there on the tick of a press of pause that it touches, or nowhere.
      const unpausing = i === 0 && (this.pause.resume > 0 || frames === 0);
      if (hi === 0 && !unpausing && i < parts.length - 1) continue;
      this.kind = 'part';
      this.at = part.source;
      this.held = held;
      this.all = this.outer | held;
      this.lo = lo;
      this.hi = hi;
      this.before = first ? this.last & this.all : this.last;
      // Likewise the last one, where no frame of it runs.
      this.withPause = first || (lo === 0 && i === parts.length - 1);
      if (held !== 0) this.begin();
      this.rise();
      this.countFrames(held, lo === hi ? lo : NaN, this.all === this.last, first);
      this.last = this.all;
      if (held !== 0) pressed = true;
      if (held !== 0) this.neutral = 0;
      else if (this.neutral >= 0) this.neutral += lo;
      this.previous = part.source;
      this.previousAll = this.all;
      this.gap = 0;
      first = false;
    }
    this.frames = frames;
    this.at = step.source;
    for (const listener of this.listeners.window) listener(this);
    this.pass(this.pause.resume + frames + 1 + this.pause.dwell);
    this.bracket(true);
    if (pressed || this.outer !== 0) this.presses++;
    this.leaf();
  }

  private countFrames(held: Held, frames: number, goesOn: boolean, first: boolean): void {
    // A wait, or a press that only goes on with the one in front of it in the window.
    if (held === 0 || (goesOn && !first)) {
      if (this.sincePress < 0) return;
      this.sincePress += frames;
      this.pressAlone += frames;
      return;
    }
    this.sincePress = goesOn && this.sincePress >= 0 ? this.sincePress + frames : frames;
    this.pressAlone = frames;
  }

  private closePause(): void {
    this.bracket(false);
    this.pass(this.pause.resume);
    this.sinceClose = this.pause.resume;
    this.closeOuter = this.outer;
    this.sincePress = -1;
    this.pressAlone = -1;
    this.closing = true;
    this.leaf();
  }

  private hold(step: HoldStep): void {
    this.kind = 'hold';
    this.at = step.source;
    this.held = step.held;
    this.all = this.outer | step.held;
    this.lo = 1;
    this.hi = 1;
    this.before = this.last;
    this.begin();
    if (step.body.first === undefined) return;
    const { outer, holdAt, inPause } = this;
    const { all } = this;
    this.outer = all;
    this.holdAt = step.source;
    this.touch = undefined;
    this.steps(step.body.steps);
    this.outer = outer;
    this.holdAt = holdAt;
    if (inPause) return;
    this.previous = step.source;
    this.previousAll = all;
    this.previousNow = this.now;
    this.gap = 0;
    this.neutral = 0;
    this.waited = false;
    this.settled = false;
    this.presses++;
  }

  private repeat(step: RepeatStep): void {
    const { body, between } = step;
    if (body.first === undefined) return;
    this.steps(body.steps);
    if (this.halted || (step.hi <= 1 && !step.repeat.open)) return;
    // Where nothing is held, a ~ fills up at the first pass and is nothing from the second on, so
    // only the third begins behind a whole pass without it.
    const more = step.hi > 2 || step.repeat.open ? 2 : 1;
    const alone = body.steps.length === 1 && body.steps[0]?.kind === 'press';
    const out = this.head !== undefined || alone ? undefined : this.save();
    for (let pass = 0; pass < (alone ? 1 : more); pass++) {
      this.steps(between);
      if (out === undefined) this.steps(body.steps);
      else if (!this.headWalk(body.steps)) {
        this.goOnFrom(out);
        return;
      }
    }
  }

  private group(step: GroupStep): void {
    const { body } = step;
    if (body.first === undefined) return;
    const { item, unit } = step.source;
    if (item.kind !== 'phrase') {
      this.steps(body.steps);
      return;
    }
    const { usedAt } = this;
    this.usedAt ??= { unit, start: item.start, end: item.nameEnd };
    if (this.head !== undefined) this.steps(body.steps);
    else {
      const { out, found } = this.phrase(body);
      if (!this.headWalk(body.steps)) this.goOnFrom(out);
      for (const each of found) this.told(each, this.usedAt);
    }
    this.usedAt = usedAt;
  }

  /** A phrase by itself: what is found in it, and what is known at its end. */
  private phrase(body: Sequence): { out: Saved; found: Inside[] } {
    let byHeld = this.phrases.get(body);
    if (byHeld === undefined) {
      byHeld = new Map();
      this.phrases.set(body, byHeld);
    }
    const known = byHeld.get(this.outer);
    if (known !== undefined) return known;
    const before = this.save();
    const { inside, alone } = this;
    const found: Inside[] = [];
    // The head is told at each use, by a walk that knows what came before it.
    this.inside = [];
    this.alone = { since: { now: this.now, presses: this.presses }, found };
    this.blank();
    this.steps(body.steps);
    const made = { out: this.save(), found: found.filter(this.isNews).slice(0, FOUND_INSIDE) };
    byHeld.set(this.outer, made);
    this.inside = inside;
    this.alone = alone;
    this.restore(before);
    return made;
  }

  /** Whether the steps ended before their past was forgotten. */
  private headWalk(steps: readonly Step[]): boolean {
    this.head = { now: this.now, presses: this.presses };
    this.left = HEAD;
    this.steps(steps);
    const ended = !this.halted;
    this.halted = false;
    this.head = undefined;
    return ended;
  }

  private save(): Saved {
    const { last, previous, previousAll, previousNow, gap, neutral, waited, settled } = this;
    const {
      sinceClose,
      floor,
      touch,
      heldFor,
      closing,
      closeOuter,
      inPause,
      sincePress,
      pressAlone,
      now,
    } = this;
    const onsets = this.onsets.slice();
    return {
      last, previous, previousAll, previousNow, gap, neutral, waited, settled,
      sinceClose, floor, touch, heldFor, closing, closeOuter, inPause, sincePress, pressAlone, now, onsets,
    }; // prettier-ignore
  }

  /** Goes on from the end of what was walked before; enough time has passed to forget the rest. */
  private goOnFrom(out: Saved): void {
    const now = this.now + this.memory;
    const shift = now - out.now;
    this.restore(out);
    this.now = now;
    this.floor += shift;
    this.previousNow += shift;
    for (let i = 0; i < this.onsets.length; i++) this.onsets[i] = (this.onsets[i] ?? 0) + shift;
    this.presses++;
    this.leaveHead();
  }

  /** Times are taken over as they are: only their differences are ever looked at. */
  private restore(saved: Saved): void {
    this.last = saved.last;
    this.previous = saved.previous;
    this.previousAll = saved.previousAll;
    this.previousNow = saved.previousNow;
    this.gap = saved.gap;
    this.neutral = saved.neutral;
    this.waited = saved.waited;
    this.settled = saved.settled;
    this.sinceClose = saved.sinceClose;
    this.floor = saved.floor;
    this.touch = saved.touch;
    this.heldFor = saved.heldFor;
    this.closing = saved.closing;
    this.closeOuter = saved.closeOuter;
    this.inPause = saved.inPause;
    this.sincePress = saved.sincePress;
    this.pressAlone = saved.pressAlone;
    this.now = saved.now;
    for (let i = 0; i < this.onsets.length; i++) this.onsets[i] = saved.onsets[i] ?? -Infinity;
  }
}

const NOWHERE = {
  kind: 'mark',
  start: 0,
  end: 0,
  join: -1,
  repeat: undefined,
  marks: [],
} as const;
