import { type Program, type SourceFile, placesOf } from '../model/program.js';
import type { Leaf, RepeatStep, Sequence, Source, Step } from '../model/steps.js';
import type { Unit } from '../syntax/tree.js';
import { LineIndex } from '../text/lines.js';

/** A source in another file, with the use of a phrase that led there from the file looked at. */
interface UsedSource extends Source {
  readonly use: Source;
}

/** Finds the line, from 1, of a source in a file; what stands in another file has the line of its use. */
export function lineFinder(program: Program, file: SourceFile): (source: Source) => number {
  const places = placesOf(program);
  const index = new LineIndex(file.tree.text);
  const known = new WeakMap<Source, number>();
  return (source) => {
    let line = known.get(source);
    if (line === undefined) {
      const { unit, item } = 'use' in source ? (source as UsedSource).use : source;
      line = index.lineAt((places.get(unit)?.start ?? 0) + item.start);
      known.set(source, line);
    }
    return line;
  };
}

/** A sequence whose sources know their use, and the repeat that one of its repeats was made from. */
export interface Traced {
  readonly sequence: Sequence;
  readonly original: (step: RepeatStep) => RepeatStep;
}

/**
 * Steps of a phrase of another file say where they are written, and are shared between its uses.
 * Here each use gets steps of its own, that say where the phrase is used in `own`. A sequence
 * without such phrases, as most are, comes back as it is.
 */
export function traceUses(sequence: Sequence, own: ReadonlySet<Unit>): Traced {
  const tracer = new Tracer(own);
  return { sequence: tracer.body(sequence, undefined), original: tracer.original };
}

class Tracer {
  private readonly made = new Map<Sequence, Map<Source | undefined, Sequence>>();
  private readonly origins = new Map<RepeatStep, RepeatStep>();

  constructor(private readonly own: ReadonlySet<Unit>) {}

  readonly original = (step: RepeatStep): RepeatStep => this.origins.get(step) ?? step;

  body(sequence: Sequence, use: Source | undefined): Sequence {
    let uses = this.made.get(sequence);
    if (uses === undefined)
      this.made.set(sequence, (uses = new Map<Source | undefined, Sequence>()));
    let copy = uses.get(use);
    if (copy === undefined) uses.set(use, (copy = this.copy(sequence, use)));
    return copy;
  }

  private copy(sequence: Sequence, use: Source | undefined): Sequence {
    const steps = sequence.steps.map((step) => this.step(step, use));
    if (steps.every((step, i) => step === sequence.steps[i])) return sequence;
    const leaf = (old: Leaf | undefined) => (old === undefined ? old : this.leaf(old, use));
    return { steps, first: leaf(sequence.first), last: leaf(sequence.last) };
  }

  private source(source: Source, use: Source | undefined): Source {
    if (use === undefined || this.own.has(source.unit)) return source;
    const used: UsedSource = { ...source, use };
    return used;
  }

  private step(step: Step, use: Source | undefined): Step {
    switch (step.kind) {
      case 'claim':
        return step;
      case 'group': {
        // The innermost use that stands in the file is the one that its reader can see.
        const inner = step.of === 'phrase' && this.own.has(step.source.unit) ? step.source : use;
        const body = this.body(step.body, inner);
        return body === step.body ? step : { ...step, body };
      }
      case 'hold': {
        const body = this.body(step.body, use);
        return body === step.body ? step : { ...step, body };
      }
      case 'repeat': {
        const body = this.body(step.body, use);
        if (body === step.body) return step;
        const copy = { ...step, body };
        this.origins.set(copy, step);
        return copy;
      }
      default:
        return this.leaf(step, use);
    }
  }

  private leaf(leaf: Leaf, use: Source | undefined): Leaf {
    const source = this.source(leaf.source, use);
    if (source === leaf.source) return leaf;
    if (leaf.kind !== 'window') return { ...leaf, source };
    const parts = leaf.parts.map((part) => ({ ...part, source: this.source(part.source, use) }));
    return { ...leaf, source, parts };
  }
}
