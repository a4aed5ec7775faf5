import { programOf } from '@core/model/program.js';
import { Resolver } from '@core/model/resolve.js';
import { type Scope, scopeOf } from '@core/model/scope.js';
import { compile } from '@core/positions/compile.js';
import { knownOf } from '@core/positions/context.js';
import { Follower, type FollowOptions } from '@core/positions/follow.js';
import { UNKNOWN } from '@core/positions/places.js';
import { startsOf } from '@core/positions/starts.js';
import { type RouteTrace, traceRoute } from '@core/positions/trace.js';

/** The scope of a note in one file. */
export function scopeFor(text: string): Scope {
  const program = programOf(text);
  const [file] = program.files.values();
  if (file === undefined) throw new Error('the note is there');
  return scopeOf(program, file);
}

/** Its route of a name, or its first one. */
export function routeOf(scope: Scope, name?: string) {
  const [first] = scope.routes.values();
  const route = name === undefined ? first : scope.routes.get(name);
  if (route === undefined) throw new Error('the route is there');
  return route;
}

export function traceOf(text: string, name?: string): RouteTrace {
  const scope = scopeFor(text);
  const { declaration, unit } = routeOf(scope, name);
  return traceRoute(declaration, unit, scope);
}

/** Where a route ends: names sorted, `?` for the unknown. */
export function endOf(text: string, options: FollowOptions = {}): string[] {
  const scope = scopeFor(text);
  const { declaration, unit } = routeOf(scope);
  const { log, grounds } = knownOf(scope);
  const starts = startsOf(declaration, log);
  if (starts === undefined) throw new Error('the route has starts');
  const sequence = new Resolver(scope).resolve(declaration.body, unit);
  const end = new Follower(log, grounds, options).follow(compile(sequence, log.tokens), starts);
  return end.list.map((place) => (place === UNKNOWN ? '?' : log.name(place))).sort();
}
