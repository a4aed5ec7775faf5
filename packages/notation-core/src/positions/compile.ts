import type {
  ClaimStep,
  RepeatStep,
  Sequence,
  Step,
  TimedStep,
  WindowPart,
} from '../model/steps.js';
import type { Item } from '../syntax/tree.js';
import { Memo } from '../text/memo.js';
import type { Tokens } from './tokens.js';

/**
 * A sequence for following: straight runs of tokens with marks between them, and repeats.
 * Groups and phrases are written out while they are short and shared where they are not, so
 * that the whole stays as small as the text.
 */
export interface Run {
  readonly kind: 'run';
  readonly ids: number[];
  /** The step of each token. */
  readonly steps: TimedStep[];
  /** What happens in front of token `index` (or behind the last), in order. */
  readonly marks: Mark[];
}
export interface Loop {
  readonly kind: 'loop';
  readonly body: Node[];
  /** `between` and `body`, for every time but the first. */
  readonly again: Node[];
  readonly count: number;
  readonly step: RepeatStep | undefined;
  readonly until: string | undefined;
}
export type Node = Run | Loop;

export type Mark =
  | { readonly kind: 'claim'; readonly index: number; readonly claim: ClaimStep }
  | { readonly kind: 'item'; readonly index: number; readonly item: number }
  | { readonly kind: 'repeat'; readonly index: number; readonly repeat: RepeatStep };

/** Counts that differ from the written low end, for one press or repeat at a time. */
export type Overrides = ReadonlyMap<RepeatStep | WindowPart | TimedStep, number>;

/** More tokens than this are not written out. */
const WRITE_OUT = 4096;
/** Nor are groups and phrases, once so many tokens of them have been. */
const WRITTEN = 2 ** 20;

export interface CompileOptions {
  readonly overrides?: Overrides;
  /** Marks the end of each item of the outermost sequence, and its repeats; filled with the items. */
  readonly items?: Item[][];
}

export function compile(sequence: Sequence, tokens: Tokens, options: CompileOptions = {}): Node[] {
  return new Compiler(tokens, options.overrides).top(sequence, options.items);
}

const lengths = new Memo<readonly Node[], number>();

/** How many tokens the nodes stand for; Infinity where that is more than numbers hold. */
export function lengthOf(nodes: readonly Node[]): number {
  const known = lengths.get(nodes);
  if (known !== undefined) return known;
  let sum = 0;
  for (const node of nodes) {
    if (node.kind === 'run') sum += node.ids.length;
    else
      sum += lengthOf(node.body) + (node.count > 1 ? (node.count - 1) * lengthOf(node.again) : 0);
  }
  lengths.set(nodes, sum);
  return sum;
}

class Compiler {
  private readonly sizes = new Map<Sequence, number>();
  private written = 0;
  /** The inputs of the holds that we are in, and what is made already inside of these. */
  private held = 0;
  private readonly made = new Map<number, { shared: Map<Sequence, Node[]>; loops: Map<RepeatStep, Loop> }>(); // prettier-ignore

  constructor(
    private readonly tokens: Tokens,
    private readonly overrides: Overrides | undefined,
  ) {}

  top(sequence: Sequence, items: Item[][] | undefined): Node[] {
    const out: Node[] = [];
    if (items === undefined) {
      for (const step of sequence.steps) this.step(step, out);
      return out;
    }
    // Steps of one chain of joined items end together; the pace in front belongs to none.
    let group: Item[] = [];
    const close = (): void => {
      if (group.length === 0) return;
      const run = this.run(out);
      run.marks.push({ kind: 'item', index: run.ids.length, item: items.length });
      items.push(group);
      group = [];
    };
    // Between the brackets of a pause everything belongs to the pause.
    let inPause: Item | undefined;
    for (const step of sequence.steps) {
      if (step.kind === 'claim' && inPause === undefined) {
        // The item ends in front of its claim: what is shown is what the log says, not the claim.
        close();
        this.step(step, out);
        continue;
      }
      if (step.kind === 'claim') {
        this.step(step, out);
        continue;
      }
      if (step.kind === 'open') inPause = step.source.item;
      const item = inPause ?? step.source.item;
      if (step.kind === 'close') inPause = undefined;
      if (step.kind === 'group' && step.of === 'way') {
        // The items of the way taken stand in the place of the choose.
        close();
        for (const node of this.top(step.body, items)) this.append(node, out);
        continue;
      }
      const pace = (step.kind === 'wait' || step.kind === 'settle') && !step.written;
      if (pace) close();
      else if (group[group.length - 1] !== item) {
        if (item.join < 0) close();
        group.push(item);
      }
      if (step.kind === 'repeat') {
        const run = this.run(out);
        run.marks.push({ kind: 'repeat', index: run.ids.length, repeat: step });
      }
      this.step(step, out);
    }
    close();
    return out;
  }

  private append(node: Node, out: Node[]): void {
    if (node.kind === 'loop') out.push(node);
    else {
      const run = this.run(out);
      const at = run.ids.length;
      for (const id of node.ids) run.ids.push(id);
      for (const step of node.steps) run.steps.push(step);
      for (const mark of node.marks) run.marks.push({ ...mark, index: mark.index + at });
    }
  }

  private run(out: Node[]): Run {
    const last = out[out.length - 1];
    if (last?.kind === 'run') return last;
    const run: Run = { kind: 'run', ids: [], steps: [], marks: [] };
    out.push(run);
    return run;
  }

  private token(id: number, step: TimedStep, out: Node[]): void {
    const run = this.run(out);
    run.ids.push(this.held === 0 ? id : this.tokens.within(id, this.held));
    run.steps.push(step);
  }

  private step(step: Step, out: Node[]): void {
    const { tokens } = this;
    switch (step.kind) {
      case 'press':
        this.token(tokens.press(step.held, this.count(step, step.lo)), step, out);
        break;
      case 'wait': {
        const frames = this.count(step, step.lo);
        if (frames > 0) this.token(tokens.wait(frames), step, out);
        break;
      }
      case 'settle':
        this.token(tokens.settle, step, out);
        break;
      case 'open':
        this.token(tokens.open, step, out);
        break;
      case 'close':
        this.token(tokens.close, step, out);
        break;
      case 'window': {
        const { parts } = step;
        const id = tokens.window(parts, (i) => {
          const part = parts[i];
          return part === undefined ? 0 : (this.overrides?.get(part) ?? part.lo);
        });
        this.token(id, step, out);
        break;
      }
      case 'hold':
        this.token(tokens.holdStart(step.held), step, out);
        this.hold(step.held, () => {
          this.block(step.body, out);
        });
        this.token(tokens.holdEnd, step, out);
        break;
      case 'group':
        this.block(step.body, out);
        break;
      case 'repeat':
        this.repeat(step, out);
        break;
      case 'claim': {
        const run = this.run(out);
        run.marks.push({ kind: 'claim', index: run.ids.length, claim: step });
        break;
      }
    }
  }

  private count(step: TimedStep, lo: number): number {
    return this.overrides?.get(step) ?? lo;
  }

  private hold(held: number, work: () => void): void {
    const outer = this.held;
    this.held |= held;
    work();
    this.held = outer;
  }

  private get known() {
    let known = this.made.get(this.held);
    if (known === undefined) {
      known = { shared: new Map(), loops: new Map() };
      this.made.set(this.held, known);
    }
    return known;
  }

  /** A body in its place: written out where it is short, shared with its other uses where not. */
  private block(sequence: Sequence, out: Node[]): void {
    const size = this.size(sequence);
    if (size <= WRITE_OUT && this.written <= WRITTEN) {
      this.written += size;
      for (const inner of sequence.steps) this.step(inner, out);
      return;
    }
    const body = this.sequence(sequence);
    out.push({ kind: 'loop', body, again: body, count: 1, step: undefined, until: undefined });
  }

  private repeat(step: RepeatStep, out: Node[]): void {
    const count = this.overrides?.get(step) ?? step.lo;
    if (count === 0) return;
    const until = step.repeat.open ? step.repeat.until?.name : undefined;
    if (until === undefined && this.size(step.body) * count <= 16 && count <= 8) {
      for (let i = 0; i < count; i++) {
        if (i > 0) for (const gap of step.between) this.step(gap, out);
        for (const inner of step.body.steps) this.step(inner, out);
      }
      return;
    }
    const { loops } = this.known;
    let loop = loops.get(step);
    if (loop === undefined) {
      const body = this.sequence(step.body);
      const again: Node[] = [];
      for (const gap of step.between) this.step(gap, again);
      for (const node of body) this.append(node, again);
      loop = { kind: 'loop', body, again, count, step, until };
      loops.set(step, loop);
    }
    out.push(loop);
  }

  private sequence(sequence: Sequence): Node[] {
    const { shared } = this.known;
    let nodes = shared.get(sequence);
    if (nodes === undefined) {
      nodes = [];
      for (const step of sequence.steps) this.step(step, nodes);
      shared.set(sequence, nodes);
    }
    return nodes;
  }

  /** Tokens written out if groups were, counting each repeat's body once; saturating. */
  private size(sequence: Sequence): number {
    let size = this.sizes.get(sequence);
    if (size === undefined) {
      size = 0;
      for (const step of sequence.steps) {
        if (step.kind === 'group' || step.kind === 'hold') size += this.size(step.body);
        else if (step.kind === 'repeat') size += 1 + Math.min(this.size(step.body), WRITE_OUT);
        else size++;
      }
      size = Math.min(size, 2 * WRITE_OUT);
      this.sizes.set(sequence, size);
    }
    return size;
  }
}
