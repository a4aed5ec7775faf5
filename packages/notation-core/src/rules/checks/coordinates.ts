import type { Coordinates, GroundDeclaration, SpotDeclaration, Unit } from '../../syntax/tree.js';
import type { Report } from '../../model/problems.js';

/** Coordinates are bare numbers; how many there are the syntax sees to. */
export function checkCoordinates(
  declaration: SpotDeclaration | GroundDeclaration,
  unit: Unit,
  report: Report,
): void {
  const check = (setting: string, at: Coordinates | undefined): void => {
    if (at === undefined || at.values.every((value) => value.unit === '')) return;
    const { start, end } = at;
    report('bad-setting', { unit, start, end }, {
      setting,
      written: unit.text.slice(start, end),
      wanted: 'numbers without a unit, such as (412, 88)',
    }); // prettier-ignore
  };
  if (declaration.kind === 'spot') {
    check('at', declaration.at);
    return;
  }
  check('within', declaration.within);
  check('to', declaration.to);
  for (const { by } of declaration.moves) check('by', by);
}
