import type { Coordinates, GroundDeclaration, SpotDeclaration, Unit } from '../../syntax/tree.js';
import type { Report } from '../../model/problems.js';

/** Coordinates are bare numbers, two or three, and as many all over one ground. */
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
  const axes = declaration.within?.values.length ?? declaration.moves[0]?.by?.values.length;
  const same = (setting: string, at: Coordinates | undefined): void => {
    check(setting, at);
    if (at === undefined || axes === undefined || at.values.length === axes) return;
    // Fewer than two are reported where they are missing.
    if (at.values.length < 2 || axes < 2) return;
    const { start, end } = at;
    report('bad-setting', { unit, start, end }, {
      setting,
      written: unit.text.slice(start, end),
      wanted: `${axes} numbers, as elsewhere in this ground`,
    }); // prettier-ignore
  };
  check('within', declaration.within);
  same('to', declaration.to);
  for (const { by } of declaration.moves) same('by', by);
}
