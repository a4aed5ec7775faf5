import type { Scope } from '../model/scope.js';
import { type Nominal, nominalRoute } from '../positions/nominal.js';
import { type RouteTrace, traceRoute } from '../positions/trace.js';
import type { RouteDeclaration, Unit } from '../syntax/tree.js';
import { buildTimeline } from '../timeline/build.js';
import type { Timeline, TooLong } from '../timeline/types.js';
import type { Choices } from '../model/resolve.js';
import { type Measured, measure } from './measure.js';

/** What the features ask of a route again and again. Each is worked out when it is first asked. */
export interface RouteFacts {
  readonly nominal: Nominal;
  readonly timeline: Timeline | TooLong;
  /** The items of the route's body; undefined where it is too long. */
  readonly measured: readonly Measured[] | undefined;
  readonly trace: RouteTrace;
}

const facts = new WeakMap<Scope, WeakMap<Unit, RouteFacts>>();

/** The facts of a route in a scope by its first ways, made once. */
export function routeFacts(scope: Scope, unit: Unit, route: RouteDeclaration): RouteFacts {
  let units = facts.get(scope);
  if (units === undefined) {
    units = new WeakMap();
    facts.set(scope, units);
  }
  let known = units.get(unit);
  if (known === undefined) {
    known = factsOf(scope, unit, route);
    units.set(unit, known);
  }
  return known;
}

/** The same with ways of one's own, not kept. */
export function factsOf(
  scope: Scope,
  unit: Unit,
  route: RouteDeclaration,
  choices?: Choices,
): RouteFacts {
  const nominal = once(() => nominalRoute(route, unit, scope, choices));
  const options = () => ({ repeatCount: nominal().repeatCount });
  const timeline = once(() => buildTimeline(nominal().sequence, scope.game, options()));
  const measured = once(() => measure(nominal().sequence.steps, scope.game, options()));
  const trace = once(() => traceRoute(route, unit, scope, choices));
  return {
    get nominal() {
      return nominal();
    },
    get timeline() {
      return timeline();
    },
    get measured() {
      return measured();
    },
    get trace() {
      return trace();
    },
  };
}

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => (made ??= { value: make() }).value;
}
