import type { Item } from '../syntax/tree.js';
import type { Choices } from '../model/resolve.js';

/** More combinations than anybody plays; every way past them is still resolved, only not walked. */
const MOST = 64;

/**
 * Choices that together take every way of every `choose` in a body at least once: the k-th of
 * them takes the k-th way everywhere, so their number is that of the ways of one `choose`, not
 * the product. The first takes every first way.
 */
export function choicesOf(items: readonly Item[]): Choices[] {
  const [first = new Map<string, string>(), ...more] = cover(items);
  return [first, ...more];
}

function cover(items: readonly Item[]): Map<string, string>[] {
  const lists: Map<string, string>[][] = [];
  for (const item of items) {
    if (item.kind === 'choose') {
      const { name } = item;
      if (name === undefined) continue;
      const list: Map<string, string>[] = [];
      for (const way of item.ways) {
        const inner = cover(way.body);
        for (const each of inner.length > 0 ? inner : [new Map<string, string>()]) {
          if (list.length < MOST) list.push(each.set(name.name, way.name.name));
        }
      }
      if (list.length > 0) lists.push(list);
    } else if (item.kind === 'group' || item.kind === 'hold' || item.kind === 'pause') {
      const list = cover(item.body);
      if (list.length > 0) lists.push(list);
    }
  }
  const most = Math.max(0, ...lists.map((list) => list.length));
  return Array.from({ length: most }, (_, k) => {
    const merged = new Map<string, string>();
    for (const list of lists) {
      for (const [name, way] of list[Math.min(k, list.length - 1)] ?? []) merged.set(name, way);
    }
    return merged;
  });
}
