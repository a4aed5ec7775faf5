import type { Coordinates, GroundDeclaration, SpotDeclaration, Unit } from '../../syntax/tree.js';
import type { Report } from '../../model/problems.js';

/** Coordinates are two or three numbers, as many in all of one ground. */
export function checkCoordinates(
  declaration: SpotDeclaration | GroundDeclaration,
  unit: Unit,
  report: Report,
): void {
  const check = (setting: string, at: Coordinates | undefined, wanted?: number): void => {
    if (at === undefined || wellFormed(at, wanted)) return;
    const { start, end } = at;
    report('bad-setting', { unit, start, end }, {
      setting,
      written: unit.text.slice(start, end),
      wanted:
        wanted === undefined
          ? 'two or three numbers, such as (412, 88)'
          : `${wanted} numbers, as many as the corner that "within" names`,
    }); // prettier-ignore
  };
  if (declaration.kind === 'spot') {
    check('at', declaration.at);
    return;
  }
  const { within, to, moves } = declaration;
  check('within', within);
  const size = within !== undefined && wellFormed(within) ? within.values.length : undefined;
  check('to', to, size);
  for (const move of moves) check('by', move.by, size);
}

function wellFormed({ values }: Coordinates, wanted?: number): boolean {
  const count = values.length;
  const fits = wanted === undefined ? count === 2 || count === 3 : count === wanted;
  return fits && values.every(({ unit }) => unit === '');
}
