import type { Choices } from '../../model/resolve.js';
import type { Program } from '../../model/program.js';
import type { Declared, Scope } from '../../model/scope.js';
import { nominalRoute } from '../../positions/nominal.js';
import type { RouteDeclaration } from '../../syntax/tree.js';
import { buildTimeline } from '../../timeline/build.js';
import { lineFinder, traceUses } from '../../timeline/table-lines.js';
import type { RouteTable } from '../../timeline/table.js';
import { Trouble } from '../exit.js';

/** The whole nominal course of a route as a table. Throws Trouble where it is too long to count. */
export function routeTable(
  route: Declared<RouteDeclaration>,
  scope: Scope,
  program: Program,
  choices: Choices,
): RouteTable {
  const { declaration, unit, file } = route;
  const name = declaration.name?.name ?? '';
  const nominal = nominalRoute(declaration, unit, scope, choices);
  const own = new Set(file.tree.units.map((placed) => placed.unit));
  const { sequence, original } = traceUses(nominal.sequence, own);
  const timeline = buildTimeline(sequence, scope.game, {
    repeatCount: (step) => nominal.repeatCount(original(step)),
  });
  if ('tooLong' in timeline) {
    const reason = `route ${name} is longer than ${timeline.limit} ticks`;
    throw new Trouble(file.path, reason, 'Make a repeat or a length in it smaller.');
  }
  return {
    name,
    title: declaration.title?.value ?? '',
    timeline,
    from: 0,
    to: timeline.ticks,
    line: lineFinder(program, file),
  };
}
