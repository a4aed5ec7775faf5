import type { Declared, Scope } from '../../model/scope.js';
import { analyseRescue, analyseRoute, type RouteFacts } from '../../positions/analysis.js';
import { conflicts } from '../../positions/conflicts.js';
import type { PositionProblem } from '../../positions/problems.js';
import type { RouteDeclaration, Unit } from '../../syntax/tree.js';
import { choicesOf } from '../ways.js';

/** What the log says of the declarations of a scope; each route is followed once for each way. */
export class PositionChecks {
  private readonly facts = new Map<Unit, RouteFacts>();

  constructor(private readonly scope: Scope) {}

  forget(unit: Unit): void {
    this.facts.delete(unit);
  }

  of(unit: Unit): readonly PositionProblem[] {
    const { scope } = this;
    const { declaration } = unit;
    if (scope.games.length === 0) return [];
    switch (declaration.kind) {
      case 'route':
        // Without a start nothing is followed, and the log need not be compiled for it.
        if (declaration.from === undefined) return [];
        return this.factsOf({ declaration, unit }).problems;
      case 'rescue':
        return analyseRescue(declaration, unit, scope, (route) => this.factsOf(route));
      case 'seen':
        return conflicts(scope, unit);
      default:
        return [];
    }
  }

  private factsOf({
    declaration,
    unit,
  }: Pick<Declared<RouteDeclaration>, 'declaration' | 'unit'>): RouteFacts {
    const known = this.facts.get(unit);
    if (known !== undefined) return known;
    const [first, ...others] = choicesOf(declaration.body);
    const facts = analyseRoute(declaration, unit, this.scope, first);
    const problems = [...facts.problems];
    const passed = new Set(facts.passed);
    const claimed = new Map(facts.claimed);
    for (const choices of others) {
      const more = analyseRoute(declaration, unit, this.scope, choices);
      problems.push(...more.problems);
      for (const place of more.passed) passed.add(place);
      for (const [spot, times] of more.claimed) {
        claimed.set(spot, Math.max(times, claimed.get(spot) ?? 0));
      }
    }
    const merged = { problems, passed, claimed };
    this.facts.set(unit, merged);
    return merged;
  }
}
