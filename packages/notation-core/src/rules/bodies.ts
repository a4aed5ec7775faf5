import type { Declaration, Item } from '../syntax/tree.js';

/** The sequences that a declaration holds. */
export function bodiesOf(declaration: Declaration): readonly (readonly Item[])[] {
  switch (declaration.kind) {
    case 'let':
    case 'route':
    case 'rescue':
      return [declaration.body];
    case 'seen':
      return declaration.rows.map(({ body }) => body);
    case 'ground':
      return declaration.moves.map(({ body }) => body);
    default:
      return [];
  }
}
