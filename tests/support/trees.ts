import type { Declaration, Problem, Tree } from '@core/syntax/tree.js';

/** What a text means to the syntax, apart from where it stands. */
export interface Meaning {
  readonly declarations: readonly unknown[];
  readonly comments: readonly string[];
  readonly problems: readonly unknown[];
}

const PLACES = new Set(['start', 'end', 'bodyStart', 'bodyEnd', 'nameEnd']);

/** A value without its offsets; of a join only whether there is one. Goes down as deep as the tree. */
function placeless(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(placeless);
  if (typeof value !== 'object' || value === null) return value;
  const out: Record<string, unknown> = {};
  for (const [key, inner] of Object.entries(value)) {
    if (PLACES.has(key)) continue;
    out[key] = key === 'join' ? (inner as number) >= 0 : placeless(inner);
  }
  return out;
}

export function meaning(tree: Tree): Meaning {
  const declarations: unknown[] = [];
  const comments: string[] = [];
  const problems: unknown[] = [];
  for (const { unit } of tree.units) {
    if (!isEmpty(unit.declaration)) declarations.push(placeless(unit.declaration));
    for (const { start, end } of unit.comments) {
      comments.push(unit.text.slice(start, end).trimEnd());
    }
    problems.push(...unit.problems.map(({ code, params }) => ({ code, ...spaceless(params) })));
  }
  return { declarations, comments, problems };
}

/** Parameters quote the text as it stands, white space included. */
function spaceless(params: Problem['params']): Record<string, unknown> {
  const quoted = (value: unknown) =>
    typeof value === 'string' ? value.replace(/[\s\u0085]+/g, ' ').trim() : value;
  return Object.fromEntries(Object.entries(params).map(([key, value]) => [key, quoted(value)]));
}

function isEmpty({ kind, start, end }: Declaration): boolean {
  return kind === 'broken' && start === end;
}

/** Whether two trees differ in their offsets at most. */
export function sameTree(a: Tree, b: Tree): boolean {
  return JSON.stringify(meaning(a)) === JSON.stringify(meaning(b));
}

/** All problems of a tree, with offsets of the whole text. */
export function problemsOf(tree: Tree): Problem[] {
  return tree.units.flatMap(({ start, unit }) =>
    unit.problems.map((p) => ({ ...p, start: p.start + start, end: p.end + start })),
  );
}
