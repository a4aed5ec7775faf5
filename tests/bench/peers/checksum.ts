import type * as Tree from '@core/syntax/tree.js';

/** A node of a tree: what it is and where, in offsets of the whole text. */
export type Visit = (kind: string, start: number, end: number) => void;

/** One number for all the nodes that a tree tells of, in their order. */
export function checksum(tell: (visit: Visit) => void): number {
  let sum = 2166136261;
  const mix = (n: number): void => {
    sum = Math.imul(sum ^ n, 16777619) >>> 0;
  };
  tell((kind, start, end) => {
    for (let i = 0; i < kind.length; i++) mix(kind.charCodeAt(i));
    mix(start);
    mix(end);
  });
  return sum;
}

/** Declarations, rows, ways, items and marks of a tree of ours. */
export function visitTree(tree: Tree.Tree, visit: Visit): void {
  for (const { start: origin, unit } of tree.units) {
    const node = (kind: string, start: number, end: number): void => {
      visit(kind, origin + start, origin + end);
    };
    const items = (body: readonly Tree.Item[]): void => {
      for (const item of body) {
        if (item.kind !== 'mark') node(item.kind, item.start, item.end);
        if ('body' in item) items(item.body);
        if (item.kind === 'choose') {
          for (const way of item.ways) {
            node('way', way.start, way.end);
            items(way.body);
          }
        }
        for (const mark of item.marks) node(mark.kind, mark.start, mark.end);
      }
    };
    const { declaration } = unit;
    if (declaration.kind === 'broken') continue;
    node(declaration.kind, declaration.start, declaration.end);
    if (declaration.kind === 'seen') {
      for (const row of declaration.rows) {
        node('row', row.start, row.end);
        items(row.body);
      }
    } else if ('body' in declaration) items(declaration.body);
  }
}
