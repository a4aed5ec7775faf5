import type { Count, Item, PauseItem, PressItem, Unit, WaitItem } from '../syntax/tree.js';
import { LIMITS } from '../text/limits.js';
import { nearest } from '../text/suggest.js';
import { framesOf } from './count.js';
import type { Game, Pace } from './game.js';
import { type ModelProblem, type Report, collector } from './problems.js';
import type { SourceFile } from './program.js';
import { filesInScopeHaveGame, type Scope } from './scope.js';
import { EMPTY, isWrittenWait, type Leaf, type Sequence, type Source, type Step } from './steps.js';

/** Where items stand: in the open, inside `X&( )`, or inside `[ ]`. */
export type Context = 'run' | 'hold' | 'pause';

/** Which way is taken at each `choose`; the first where none is named. */
export type Choices = ReadonlyMap<string, string>;

export interface ResolveOptions {
  /** False in the log and on ground, where no player chooses. */
  readonly mayChoose?: boolean;
  readonly context?: Context;
}

interface Built {
  readonly sequence: Sequence;
  /** The pace in force at the first leaf. */
  readonly pace: Pace | undefined;
}

const NO_CHOICES: Choices = new Map();
const silent: Report = () => undefined;
/** Problems that come from where a phrase is used, not from how it is written. */
const OF_CONTEXT = new Set(['settle-misplaced', 'nested-pause', 'choose-misplaced', 'window-form']);
/** Problems of a phrase that leave each use of it without its meaning. */
const OF_EVERY_USE = new Set(['phrase-in-itself', 'phrases-too-deep']);
const DEPTH = 2 * LIMITS.nesting;
/** Unknown names that a near one is looked for: each look goes through every name. */
const GUESSES = 100;

/**
 * Gives items their meaning in a scope: names looked up, lengths in frames, spacing explicit.
 * One resolver serves one scope and one set of choices; phrases are resolved once for each
 * pace and context that they are used in, and shared.
 */
export class Resolver {
  readonly game: Game;
  private readonly phrases = new Map<
    string,
    { built: Built; problems: ModelProblem[]; height: number }
  >();
  private readonly foreign = new Map<SourceFile, boolean>();
  private readonly open: string[] = [];
  private readonly choices: Choices;
  private unit: Unit;
  private report: Report = silent;
  private pace: Pace | undefined;
  private mayChoose = true;
  private depth = 0;
  /** How deep bodies stand inside the one at hand, as far as they are resolved. */
  private height = 0;
  private guesses = GUESSES;

  constructor(
    readonly scope: Scope,
    choices: Choices = NO_CHOICES,
  ) {
    this.game = scope.game;
    this.choices = choices;
    this.unit = scope.game.unit;
  }

  /** Near names are looked for again, as often as for a new note. */
  renewGuesses(): void {
    this.guesses = GUESSES;
  }

  /** The meaning of a body of a declaration; problems are those written in its unit. */
  resolve(
    items: readonly Item[],
    unit: Unit,
    report: Report = silent,
    options: ResolveOptions = {},
  ): Sequence {
    this.unit = unit;
    this.report = report;
    this.pace = this.game.pace;
    this.mayChoose = options.mayChoose ?? true;
    this.depth = 0;
    this.height = 0;
    return this.body(items, options.context ?? 'run').sequence;
  }

  /** A body; a pace that it sets ends with it. */
  private body(items: readonly Item[], context: Context): Built {
    const outer = this.pace;
    if (this.depth >= DEPTH) {
      const item = items[0];
      if (item !== undefined) {
        this.report('phrases-too-deep', this.at(item), { limit: DEPTH });
      }
      return { sequence: EMPTY, pace: outer };
    }
    const { height } = this;
    this.height = 0;
    this.depth++;
    const built = context === 'pause' ? this.windows(items) : this.running(items, context);
    this.depth--;
    this.height = Math.max(height, this.height + 1);
    this.pace = outer;
    return built;
  }

  private running(items: readonly Item[], context: 'run' | 'hold'): Built {
    const steps: Step[] = [];
    let first: Leaf | undefined;
    let last: Leaf | undefined;
    let lastItem: Item | undefined;
    let paceAtFirst = this.pace;
    for (let i = 0; i < items.length; i++) {
      const item = items[i];
      if (item === undefined) continue;
      if (item.kind === 'pace') {
        if (item.pace !== undefined) this.pace = paceOf(item.pace);
        continue;
      }
      const before = this.pace;
      const next = items[i + 1];
      const touchesPause = next?.kind === 'pause' && next.join >= 0;
      // Nearly every item is a leaf: it needs no sequence of its own.
      const leaf = item.repeat === undefined ? this.leaf(item, context, touchesPause) : undefined;
      if (leaf !== undefined) {
        if (last === undefined) paceAtFirst = before;
        else {
          const gap = this.between(last, leaf, before, item, lastItem, context);
          if (gap !== undefined) steps.push(gap);
        }
        first ??= leaf;
        last = leaf;
        lastItem = item;
        steps.push(leaf);
        if (item.marks.length > 0) this.claims(item, steps);
        continue;
      }
      const built = this.item(item, context, touchesPause);
      const { sequence } = built;
      if (sequence.first !== undefined) {
        if (last === undefined) paceAtFirst = built.pace ?? before;
        else {
          const gap = this.between(last, sequence.first, built.pace, item, lastItem, context);
          if (gap !== undefined) steps.push(gap);
        }
        first ??= sequence.first;
        last = sequence.last;
        lastItem = item;
      }
      for (const step of sequence.steps) steps.push(step);
      if (item.marks.length > 0) this.claims(item, steps);
    }
    return { sequence: { steps, first, last }, pace: paceAtFirst };
  }

  private claims(item: Item, steps: Step[]): void {
    for (const mark of item.marks) {
      if (mark.kind !== 'claim') continue;
      const { name, start, end } = mark;
      steps.push({ kind: 'claim', spot: name, start, end, unit: this.unit });
    }
  }

  /** What stands between two leaves: nothing where they are joined or one is a written wait. */
  private between(
    last: Leaf,
    first: Leaf,
    pace: Pace | undefined,
    item: Item,
    before: Item | undefined,
    context: Context,
  ): Step | undefined {
    if (item.join >= 0) {
      if (isWrittenWait(last) || isWrittenWait(first)) {
        const at = { unit: this.unit, start: item.join, end: item.join + 1 };
        this.report('needless-join', at, { written: this.text(item) });
      }
      return undefined;
    }
    if (isWrittenWait(last) || isWrittenWait(first)) return undefined;
    return this.gap(pace, item, before, context);
  }

  private gap(
    pace: Pace | undefined,
    item: Item,
    before: Item | undefined,
    context: Context,
  ): Step {
    const source: Source = { unit: this.unit, item };
    if (pace === undefined) {
      if (this.scope.games.length > 0) {
        this.report('spacing-unknown', this.at(item), {
          before: before === undefined ? '' : this.text(before),
          after: this.text(item),
        });
      }
      return { kind: 'wait', lo: 0, hi: 0, written: false, source };
    }
    if (pace.kind === 'settle') {
      if (context === 'hold') {
        this.report('settle-misplaced', this.at(item), { where: 'hold', written: false });
      }
      this.needsSettle(item);
      return { kind: 'settle', written: false, source };
    }
    const { count } = pace;
    const plain = count.unit === 'frames' && count.hi <= LIMITS.count;
    const frames = plain ? count : framesOf(count, this.game.clock);
    return { kind: 'wait', lo: frames.lo, hi: frames.hi, written: false, source };
  }

  private needsSettle(item: Item): void {
    if (this.game.settle === undefined && this.scope.games.length > 0) {
      this.report('settle-unknown', this.at(item), { game: this.game.title });
    }
  }

  private item(item: Item, context: 'run' | 'hold', touchesPause: boolean): Built {
    if (item.repeat === undefined) return this.single(item, context, touchesPause);
    const once = this.single(item, context, false);
    return this.repeated(item, once, (first, last) => {
      if (isWrittenWait(first) || isWrittenWait(last)) return [];
      return [this.gap(once.pace, item, item, context)];
    });
  }

  private repeated(
    item: Item,
    once: Built,
    gaps: (first: Leaf, last: Leaf) => readonly Step[],
  ): Built {
    const { repeat } = item;
    const { first, last } = once.sequence;
    if (repeat === undefined || first === undefined || last === undefined) return once;
    if (repeat.lo === 0) {
      this.report('zero-frames', this.at(repeat), {
        written: this.written(repeat),
        kind: 'repeat',
      });
    }
    if (repeat.hi < repeat.lo) {
      const written = this.written(repeat);
      this.report('range-backwards', this.at(repeat), { written, lo: repeat.lo, hi: repeat.hi });
    }
    const lo = Math.min(repeat.lo, LIMITS.count);
    const hi = Math.min(Math.max(repeat.hi, repeat.lo), LIMITS.count);
    const between = repeat.hi > 1 || repeat.open ? gaps(first, last) : [];
    const body = once.sequence;
    const source = { unit: this.unit, item };
    const step: Step = { kind: 'repeat', body, between, lo, hi, repeat, source };
    return { sequence: { steps: [step], first, last }, pace: once.pace };
  }

  /** A press, a wait or a `~`; undefined for everything else. */
  private leaf(item: Item, context: 'run' | 'hold', touchesPause: boolean): Leaf | undefined {
    switch (item.kind) {
      case 'press': {
        const { lo, hi } = this.frames(item);
        if (lo === 0 && !touchesPause) {
          this.report('zero-frames', this.at(item), { written: this.text(item), kind: 'press' });
        }
        const held = this.held(item);
        return { kind: 'press', held, lo, hi, source: { unit: this.unit, item } };
      }
      case 'wait': {
        const { lo, hi } = this.frames(item);
        if (lo === 0) {
          this.report('zero-frames', this.at(item), { written: this.text(item), kind: 'wait' });
        }
        return { kind: 'wait', written: true, lo, hi, source: { unit: this.unit, item } };
      }
      case 'settle':
        if (context === 'hold') {
          this.report('settle-misplaced', this.at(item), { where: 'hold', written: true });
        }
        this.needsSettle(item);
        return { kind: 'settle', written: true, source: { unit: this.unit, item } };
      default:
        return undefined;
    }
  }

  private single(item: Item, context: 'run' | 'hold', touchesPause: boolean): Built {
    const { pace } = this;
    const leaf = this.leaf(item, context, touchesPause);
    if (leaf !== undefined) return one(leaf, pace);
    const source: Source = { unit: this.unit, item };
    switch (item.kind) {
      case 'pause':
        return this.pause(item, source);
      case 'group': {
        const { sequence, pace: inner } = this.body(item.body, context);
        return this.group(sequence, inner, source, 'group');
      }
      case 'hold': {
        const { sequence, pace: inner } = this.body(item.body, 'hold');
        const held = this.held(item);
        const step: Step = { kind: 'hold', held, body: sequence, source };
        return { sequence: wrap(step, sequence), pace: inner };
      }
      case 'phrase': {
        const { sequence, pace: inner } = this.phrase(item, context);
        return this.group(sequence, inner, source, 'phrase');
      }
      case 'choose':
        return this.choose(item, context);
      default:
        return { sequence: EMPTY, pace };
    }
  }

  private group(
    body: Sequence,
    pace: Pace | undefined,
    source: Source,
    of: 'group' | 'phrase',
  ): Built {
    return { sequence: wrap({ kind: 'group', of, body, source, way: undefined }, body), pace };
  }

  private choose(item: Item & { kind: 'choose' }, context: Context): Built {
    if (!this.mayChoose || context === 'pause') {
      const where = context === 'pause' ? 'a pause' : 'the log';
      this.report('choose-misplaced', this.at(item), { where });
    }
    const wanted = item.name === undefined ? undefined : this.choices.get(item.name.name);
    const way = item.ways.find((each) => each.name.name === wanted) ?? item.ways[0];
    if (way === undefined) return { sequence: EMPTY, pace: this.pace };
    // The ways not taken have problems of their own.
    for (const other of item.ways) if (other !== way) this.body(other.body, context);
    const { sequence, pace } = this.body(way.body, context);
    const source = { unit: this.unit, item };
    return {
      sequence: wrap({ kind: 'group', of: 'way', body: sequence, source, way }, sequence),
      pace,
    };
  }

  private pause(item: PauseItem, source: Source): Built {
    if (this.game.pause === undefined && this.scope.games.length > 0) {
      this.report('pause-undeclared', this.at(item), { game: this.game.title });
    }
    const { sequence } = this.body(item.body, 'pause');
    const first: Leaf = { kind: 'open', source };
    const last: Leaf = { kind: 'close', source };
    const steps = [first, ...sequence.steps, last];
    return { sequence: { steps, first, last }, pace: this.pace };
  }

  /** The items inside `[ ]`: each chain of joined presses and waits is one window. */
  private windows(items: readonly Item[]): Built {
    const steps: Step[] = [];
    let first: Leaf | undefined;
    let last: Leaf | undefined;
    for (let i = 0; i < items.length; i++) {
      const head = items[i];
      if (head === undefined) continue;
      const simple = (head.kind === 'press' || head.kind === 'wait') && head.repeat === undefined;
      if (simple && !((items[i + 1]?.join ?? -1) >= 0)) {
        const step = this.windowStep(head);
        first ??= step;
        last = step;
        steps.push(step);
        if (head.marks.length > 0) this.claims(head, steps);
        continue;
      }
      const chain: Item[] = [head];
      for (let next = items[i + 1]; next !== undefined && next.join >= 0; next = items[i + 1]) {
        chain.push(next);
        i++;
      }
      for (const part of this.windowChain(chain)) {
        first ??= part.first;
        last = part.last ?? last;
        for (const step of part.steps) steps.push(step);
      }
      for (const item of chain) this.claims(item, steps);
    }
    return { sequence: { steps, first, last }, pace: this.pace };
  }

  private windowChain(chain: readonly Item[]): Sequence[] {
    const plain = chain.every(
      (item) => (item.kind === 'press' || item.kind === 'wait') && item.repeat === undefined,
    );
    if (plain) return [this.window(chain)];
    if (chain.length > 1) {
      for (const item of chain) {
        const simple = item.kind === 'press' || item.kind === 'wait';
        if (!simple || item.repeat !== undefined) {
          this.report('window-form', this.at(item), { written: this.text(item) });
        }
      }
    }
    return chain.map((item) => {
      if (item.repeat === undefined) return this.windowItem(item);
      const body = this.windowItem(item);
      return this.repeated(item, { sequence: body, pace: undefined }, () => []).sequence;
    });
  }

  private window(chain: readonly Item[]): Sequence {
    const [head] = chain;
    if (head === undefined) return EMPTY;
    const parts = chain.map((item) => {
      const { lo, hi } = this.frames(item as PressItem | WaitItem);
      const held = item.kind === 'press' ? this.held(item) : 0;
      return { held, lo, hi, source: { unit: this.unit, item } };
    });
    return one({ kind: 'window', parts, source: { unit: this.unit, item: head } }, undefined)
      .sequence;
  }

  /** A window of one press or wait, as nearly all are. */
  private windowStep(item: PressItem | WaitItem): Leaf {
    const { lo, hi } = this.frames(item);
    const held = item.kind === 'press' ? this.held(item) : 0;
    const { unit } = this;
    const part = { held, lo, hi, source: { unit, item } };
    return { kind: 'window', parts: [part], source: { unit, item } };
  }

  private windowItem(item: Item): Sequence {
    const source: Source = { unit: this.unit, item };
    switch (item.kind) {
      case 'press':
      case 'wait':
        return this.window([item]);
      case 'settle':
        this.report('settle-misplaced', this.at(item), { where: 'pause', written: true });
        return EMPTY;
      case 'pace':
        this.report('settle-misplaced', this.at(item), { where: 'pace', written: true });
        return EMPTY;
      case 'pause':
        this.report('nested-pause', this.at(item), { written: this.text(item) });
        return this.body(item.body, 'pause').sequence;
      case 'hold': {
        const body = this.body(item.body, 'pause').sequence;
        return wrap({ kind: 'hold', held: this.held(item), body, source }, body);
      }
      case 'group': {
        const body = this.body(item.body, 'pause').sequence;
        return this.group(body, undefined, source, 'group').sequence;
      }
      case 'phrase': {
        const body = this.phrase(item, 'pause').sequence;
        return this.group(body, undefined, source, 'phrase').sequence;
      }
      case 'choose':
        return this.choose(item, 'pause').sequence;
      case 'mark':
        return EMPTY;
    }
  }

  private phrase(item: Item & { kind: 'phrase' }, context: Context): Built {
    const { name } = item;
    const declared = this.scope.phrases.get(name);
    const place = { unit: this.unit, start: item.start, end: item.nameEnd };
    if (declared === undefined) {
      const near = this.guesses-- > 0 ? (nearest(name, this.scope.phrases.keys()) ?? '') : '';
      this.report('unknown-name', place, { kind: 'phrase', name, near });
      return { sequence: EMPTY, pace: this.pace };
    }
    if (this.open.includes(name)) {
      const circle = [...this.open.slice(this.open.indexOf(name)), name].join(' -> ');
      this.report('phrase-in-itself', place, { circle });
      return { sequence: EMPTY, pace: this.pace };
    }
    const key = `${name} ${context} ${paceKey(this.pace)}`;
    let known = this.phrases.get(key);
    if (known === undefined) {
      const problems: ModelProblem[] = [];
      const { unit, report } = this;
      this.unit = declared.unit;
      this.report = collector(problems);
      this.open.push(name);
      const { height } = this;
      this.height = 0;
      const built = this.body(declared.declaration.body, context);
      known = { built, problems, height: this.height };
      this.height = height;
      this.open.pop();
      this.unit = unit;
      this.report = report;
      this.phrases.set(key, known);
    }
    // A phrase that is known already is as deep here as where it was met first.
    if (this.depth + known.height > DEPTH) {
      this.report('phrases-too-deep', place, { limit: DEPTH });
      return { sequence: EMPTY, pace: this.pace };
    }
    this.height = Math.max(this.height, known.height);
    if (known.problems.length === 0) return known.built;
    // The phrase's own file reports what is wrong with it; what its use here adds is said here.
    const foreign = this.isForeign(declared.file);
    for (const problem of known.problems) {
      const always = OF_EVERY_USE.has(problem.code);
      if (foreign || OF_CONTEXT.has(problem.code) || always) {
        if (!always && !foreign && context === 'run') continue;
        this.report(problem.code, place, problem.params);
        break;
      }
    }
    return known.built;
  }

  /** Whether nothing else reports what is wrong in a file: it is another one, and sees no game. */
  private isForeign(file: SourceFile): boolean {
    if (file === this.scope.file) return false;
    let foreign = this.foreign.get(file);
    if (foreign === undefined) {
      foreign = !filesInScopeHaveGame(file, this.scope);
      this.foreign.set(file, foreign);
    }
    return foreign;
  }

  /** The bits of the letters of a press or hold; unknown letters are reported and left out. */
  private held(item: Item & { inputs: string }): number {
    let held = 0;
    const { game } = this;
    const { inputs } = item;
    for (let i = 0; i < inputs.length; i++) {
      const letter = inputs.charAt(i);
      const input = game.byLetter.get(letter);
      if (input === undefined) {
        const at = this.letterAt(item, i);
        if (letter === game.pause?.letter) this.report('bare-pause', at, { letter });
        else if (this.scope.games.length > 0) {
          const has = game.inputs.map((each) => each.letter).join(', ');
          this.report('undeclared-input', at, { letter, game: game.title, has });
        }
        continue;
      }
      const bit = 1 << input.index;
      if ((held & bit) !== 0) {
        const at = this.letterAt(item, i);
        this.report('duplicate-name', at, { kind: 'input', name: letter });
      }
      held |= bit;
    }
    return held;
  }

  private frames(item: { count: Count; start: number; end: number; kind: string }): {
    lo: number;
    hi: number;
  } {
    const { count } = item;
    if (count.unit === 'frames' && count.lo <= count.hi) {
      return count.hi <= LIMITS.count ? count : { lo: LIMITS.count, hi: LIMITS.count };
    }
    const at = { unit: this.unit, start: item.start, end: item.end };
    const written = this.unit.text.slice(item.start, item.end);
    if (count.hi < count.lo) {
      this.report('range-backwards', at, { written, lo: count.lo, hi: count.hi });
    }
    const frames = framesOf(count, this.game.clock);
    if (!frames.ok && this.scope.games.length > 0) {
      const { num, den } = this.game.clock;
      this.report('partial-frame', at, {
        written,
        frames: frames.frames,
        below: frames.below,
        above: frames.below + 1,
        clock: den === 1n ? String(num) : `${num}/${den}`,
      });
    }
    return { lo: frames.lo, hi: Math.max(frames.lo, frames.hi) };
  }

  private letterAt(item: { start: number }, i: number) {
    return { unit: this.unit, start: item.start + i, end: item.start + i + 1 };
  }

  private written({ start, end }: { start: number; end: number }): string {
    return this.unit.text.slice(start, end);
  }

  private at(item: { start: number; end: number }) {
    return { unit: this.unit, start: item.start, end: item.end };
  }

  private text(item: Item): string {
    return this.unit.text.slice(item.start, Math.min(item.end, item.start + 60));
  }
}

function one(leaf: Leaf, pace: Pace | undefined): Built {
  return { sequence: { steps: [leaf], first: leaf, last: leaf }, pace };
}

function wrap(step: Step, body: Sequence): Sequence {
  return { steps: [step], first: body.first, last: body.last };
}

function paceOf(written: WaitItem | { kind: 'settle' }): Pace {
  return written.kind === 'settle' ? { kind: 'settle' } : { kind: 'wait', count: written.count };
}

function paceKey(pace: Pace | undefined): string {
  if (pace === undefined) return '?';
  return pace.kind === 'settle' ? '~' : `${pace.count.lo}..${pace.count.hi}${pace.count.unit}`;
}
