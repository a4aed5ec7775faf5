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
  const [first = FIRST_WAYS, ...more] = cover(items) ?? [];
  return [first, ...more];
}

const FIRST_WAYS: Choices = new Map();

/** Undefined where nothing is to be chosen, as nearly everywhere. */
function cover(items: readonly Item[]): Map<string, string>[] | undefined {
  let lists: Map<string, string>[][] | undefined;
  for (const item of items) {
    if (item.kind === 'choose') {
      const { name } = item;
      if (name === undefined) continue;
      const list: Map<string, string>[] = [];
      for (const way of item.ways) {
        for (const each of cover(way.body) ?? [new Map<string, string>()]) {
          if (list.length < MOST) list.push(each.set(name.name, way.name.name));
        }
      }
      if (list.length > 0) (lists ??= []).push(list);
    } else if (item.kind === 'group' || item.kind === 'hold' || item.kind === 'pause') {
      const list = cover(item.body);
      if (list !== undefined) (lists ??= []).push(list);
    }
  }
  if (lists === undefined) return undefined;
  const all = lists;
  const most = Math.max(...all.map((list) => list.length));
  return Array.from({ length: most }, (_, k) => {
    const merged = new Map<string, string>();
    for (const list of all) {
      for (const [name, way] of list[Math.min(k, list.length - 1)] ?? []) merged.set(name, way);
    }
    return merged;
  });
}
