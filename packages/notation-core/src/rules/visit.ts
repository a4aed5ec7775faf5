import type { Item, Name, Unit } from '../syntax/tree.js';
import type { ItemPlace } from './rule.js';

/** What a visit of written items meets. */
export interface Visitor {
  item(item: Item, at: ItemPlace): void;
  /** A spot that a claim or an `until` names. */
  spot(name: Name): void;
}

/** One place for all items of a body, filled in anew for each: a visit makes no garbage. */
interface Moving {
  unit: Unit;
  inPause: boolean;
  before: Item | undefined;
  after: Item | undefined;
}

/** Visits every item of a body as it is written, brackets and ways included. */
export function visit(items: readonly Item[], unit: Unit, visitor: Visitor, inPause = false): void {
  const at: Moving = { unit, inPause, before: undefined, after: undefined };
  for (let i = 0; i < items.length; i++) {
    const item = items[i];
    if (item === undefined) continue;
    at.before = items[i - 1];
    at.after = items[i + 1];
    visitor.item(item, at);
    const until = item.repeat?.until;
    if (until !== undefined) visitor.spot(until);
    for (const mark of item.marks) if (mark.kind === 'claim') visitor.spot(mark);
    switch (item.kind) {
      case 'group':
      case 'hold':
        visit(item.body, unit, visitor, inPause);
        break;
      case 'pause':
        visit(item.body, unit, visitor, true);
        break;
      case 'choose':
        for (const way of item.ways) visit(way.body, unit, visitor, inPause);
        break;
      default:
        break;
    }
  }
}
