import type { Comment, Declaration, Item, Placed, Unit } from '../syntax/tree.js';
import type { Span } from '../text/span.js';
import type { Analysis } from './analysis.js';

/**
 * Lines that can be put away: all but the first go. `start` is the end of the first line, `end`
 * the end of the last line that goes; the line of a closing bracket stays where it begins one.
 */
export interface Fold extends Span {
  readonly kind: 'block' | 'comment' | 'docs' | 'uses';
}

/** What of a file can be folded, in the order of the text, what holds before what is held. */
export function folds(analysis: Analysis, path: string): Fold[] {
  const file = analysis.file(path);
  if (file === undefined) return [];
  const found: Fold[] = usesOf(file.tree.text, file.tree.units);
  for (const { start, unit } of file.tree.units) {
    for (const fold of foldsOf(unit)) {
      found.push({ kind: fold.kind, start: start + fold.start, end: start + fold.end });
    }
  }
  return found.sort((a, b) => a.start - b.start || b.end - a.end);
}

const known = new WeakMap<Unit, readonly Fold[]>();

function foldsOf(unit: Unit): readonly Fold[] {
  let found = known.get(unit);
  if (found === undefined) {
    const { text, comments } = unit;
    const blocks = [...blocksOf(unit.declaration)].flatMap((span): Fold[] => {
      const fold = { kind: 'block' as const, ...lines(text, span) };
      return fold.start < fold.end ? [fold] : [];
    });
    // A block that begins on the line of another one has the outer one's fold.
    const byStart = new Map<number, Fold>();
    for (const fold of blocks) if (!byStart.has(fold.start)) byStart.set(fold.start, fold);
    found = [...byStart.values(), ...commentRuns(text, comments)];
    known.set(unit, found);
  }
  return found;
}

function* blocksOf(declaration: Declaration): Generator<Span> {
  if (declaration.kind === 'broken' || declaration.kind === 'use') return;
  yield declaration;
  if (declaration.kind === 'game') {
    yield* declaration.pauses;
    const { inputs } = declaration;
    const [first, last] = [inputs[0], inputs[inputs.length - 1]];
    if (first !== undefined && last !== undefined) yield { start: first.start, end: last.end };
  } else if ('body' in declaration) yield* brackets(declaration.body);
  else if (declaration.kind === 'seen')
    for (const row of declaration.rows) yield* brackets(row.body);
}

function* brackets(items: readonly Item[]): Generator<Span> {
  for (const item of items) {
    if (item.kind === 'choose') {
      yield item;
      for (const way of item.ways) {
        yield way;
        yield* brackets(way.body);
      }
    } else if ('body' in item) {
      yield { start: item.bodyStart, end: Math.min(item.bodyEnd + 1, item.end) };
      yield* brackets(item.body);
    }
  }
}

/** From the end of the first line of a span to the end of its last, or of the one before its closer. */
function lines(text: string, { start, end }: Span): Span {
  let last = end;
  if (/[)\]}]/.test(text.charAt(end - 1))) {
    const before = text.slice(0, end - 1).trimEnd().length;
    if (/[\r\n]/.test(text.slice(before, end - 1))) last = Math.max(before, start);
  }
  return { start: lineEnd(text, start), end: lineEnd(text, last) };
}

function lineEnd(text: string, at: number): number {
  let end = at;
  while (end < text.length && text.charCodeAt(end) !== 10 && text.charCodeAt(end) !== 13) end++;
  return end;
}

/** Two comments or more on lines of their own without anything between; `##` apart from `#`. */
function commentRuns(text: string, comments: readonly Comment[]): Fold[] {
  const found: Fold[] = [];
  let run: { kind: 'comment' | 'docs'; first: Comment; last: Comment } | undefined;
  const close = (): void => {
    if (run !== undefined && run.first !== run.last) {
      found.push({ kind: run.kind, start: run.first.end, end: run.last.end });
    }
    run = undefined;
  };
  for (const comment of comments) {
    if (
      !/(^|[\r\n])[^\S\r\n]*$/.test(text.slice(Math.max(0, comment.start - 200), comment.start))
    ) {
      continue;
    }
    const kind = text.startsWith('##', comment.start) ? 'docs' : 'comment';
    const between = run === undefined ? '' : text.slice(run.last.end, comment.start);
    if (run?.kind === kind && /^(\r\n|\r|\n)[^\S\r\n]*$/.test(between)) run.last = comment;
    else {
      close();
      run = { kind, first: comment, last: comment };
    }
  }
  close();
  return found;
}

/** Two `use` lines or more, one under the other. */
function usesOf(text: string, units: readonly Placed[]): Fold[] {
  const found: Fold[] = [];
  let first: Span | undefined;
  let last: Span | undefined;
  const close = (): void => {
    if (first !== undefined && last !== undefined && first !== last) {
      const fold = { start: lineEnd(text, first.start), end: lineEnd(text, last.start) };
      if (fold.start < fold.end) found.push({ kind: 'uses', ...fold });
    }
    first = last = undefined;
  };
  for (const { start, unit } of units) {
    if (unit.declaration.kind !== 'use') {
      close();
      continue;
    }
    last = { start: start + unit.declaration.start, end: start + unit.declaration.end };
    first ??= last;
  }
  close();
  return found;
}
