import type { Declared, Scope } from '../../model/scope.js';
import type { Item, RouteDeclaration, Unit } from '../../syntax/tree.js';

/**
 * The declarations that a route's table is made from: its own, the game, and the phrases that it
 * uses, those of phrases and of every way of a `choose` included. A mistake anywhere else is no
 * reason to hold the table back.
 */
export function neededBy(route: Declared<RouteDeclaration>, scope: Scope): ReadonlySet<Unit> {
  const needed = new Set<Unit>([route.unit, scope.game.unit]);
  for (const game of scope.games) needed.add(game.unit);
  // A name that a `use` should have brought, and did not, is missing here.
  for (const { unit } of route.file.tree.units) {
    if (unit.declaration.kind === 'use') needed.add(unit);
  }
  const bodies = [route.declaration.body];
  for (let body = bodies.pop(); body !== undefined; body = bodies.pop()) {
    for (const item of body) {
      bodies.push(...bodiesOf(item));
      const phrase = item.kind === 'phrase' ? scope.phrases.get(item.name) : undefined;
      if (phrase === undefined || needed.has(phrase.unit)) continue;
      needed.add(phrase.unit);
      bodies.push(phrase.declaration.body);
    }
  }
  return needed;
}

function bodiesOf(item: Item): (readonly Item[])[] {
  if (item.kind === 'choose') return item.ways.map((way) => way.body);
  return 'body' in item ? [item.body] : [];
}
