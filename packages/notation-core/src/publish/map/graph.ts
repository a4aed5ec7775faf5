import type { Scope } from '../../model/scope.js';
import { Resolver, type Choices } from '../../model/resolve.js';
import { compile } from '../../positions/compile.js';
import { knownOf } from '../../positions/context.js';
import { start } from '../../positions/atoms.js';
import { Follower } from '../../positions/follow.js';
import type { Outcome } from '../../positions/log.js';
import { Places } from '../../positions/places.js';
import { startsOf } from '../../positions/starts.js';
import type { RouteDeclaration, Unit } from '../../syntax/tree.js';

/** A spot on the map. */
export interface MapSpot {
  readonly id: number;
  /** `@reed`. */
  readonly name: string;
  readonly cue: string;
  readonly paused: boolean;
  /** In a cycle that repeating one item leads into. */
  readonly inCycle: boolean;
  readonly role: 'start' | 'goal' | 'both' | '';
  readonly onRoute: boolean;
}

/** What leads from one spot to another: one line on the map, however many rows say so. */
export interface MapMove {
  readonly from: number;
  readonly to: number;
  /** Items as written, the most sighted first: `U x31`. */
  readonly labels: readonly string[];
  readonly sightings: number;
  /** The item whose repetition goes round along this line, '' where none does. */
  readonly cycle: string;
  /** Places of the line in the route's course, from 1; empty off the route. */
  readonly order: readonly number[];
}

export interface SpotMap {
  readonly title: string;
  readonly spots: readonly MapSpot[];
  readonly moves: readonly MapMove[];
  /** Cycles by name, each from its least spot: `@reed > @rush > @sedge`, with its item. */
  readonly cycles: readonly { readonly item: string; readonly names: readonly string[] }[];
}

interface Line {
  readonly from: number;
  readonly to: number;
  readonly items: Map<string, number>;
  cycle: string;
  order: number[];
}

/** The log as a map, with the course of a route where one is given. */
export function spotMap(
  scope: Scope,
  route?: { declaration: RouteDeclaration; unit: Unit; choices: Choices },
): SpotMap {
  const { log } = knownOf(scope);
  const lines = new Map<string, Line>();
  const lineOf = (from: number, to: number): Line => {
    const key = `${from} ${to}`;
    let line = lines.get(key);
    if (line === undefined) {
      line = { from, to, items: new Map(), cycle: '', order: [] };
      lines.set(key, line);
    }
    return line;
  };
  /** For each written item, where the most sighted outcome leads from each spot. */
  const maps = new Map<string, Map<number, { to: number; count: number }>>();
  for (const { declaration, unit } of scope.seen) {
    for (const row of declaration.rows) {
      const from = log.find(row.from.name);
      const to = row.to === undefined ? undefined : log.find(row.to.name);
      if (from === undefined || to === undefined) continue;
      const item = textOf(row.body, unit);
      const { items } = lineOf(from, to);
      const count = (items.get(item) ?? 0) + row.count;
      items.set(item, count);
      const map = maps.get(item) ?? new Map<number, { to: number; count: number }>();
      maps.set(item, map);
      const known = map.get(from);
      if (known === undefined || count > known.count) map.set(from, { to, count });
    }
  }
  const cycles = markCycles(maps, lineOf, (spot) => log.name(spot));
  const roles = new Map<number, MapSpot['role']>();
  const onRoute = new Set<number>();
  if (route !== undefined) markRoute(scope, route, lineOf, roles, onRoute);
  const used = new Set<number>([...lines.values()].flatMap(({ from, to }) => [from, to]));
  const inCycle = new Set<number>();
  for (const line of lines.values()) {
    if (line.cycle !== '') inCycle.add(line.from).add(line.to);
  }
  const spots = [...used].map((id): MapSpot => {
    const name = log.name(id);
    return {
      id,
      name: name.startsWith('(') ? name : `@${name}`,
      cue: scope.spots.get(name)?.declaration.cue?.value ?? '',
      paused: log.paused[id] === true,
      inCycle: inCycle.has(id),
      role: roles.get(id) ?? '',
      onRoute: onRoute.has(id),
    };
  });
  const title = route?.declaration.title?.value ?? route?.declaration.name?.name ?? '';
  return {
    title: title === '' ? scope.game.title : title,
    spots,
    moves: [...lines.values()].map(toMove),
    cycles,
  };
}

function toMove({ from, to, items, cycle, order }: Line): MapMove {
  const sorted = [...items].sort((a, b) => b[1] - a[1]);
  return {
    from,
    to,
    labels: sorted.map(([item, count]) => `${item} x${count}`),
    sightings: sorted.reduce((sum, [, count]) => sum + count, 0),
    cycle,
    order,
  };
}

function textOf(body: readonly { start: number; end: number }[], unit: Unit): string {
  const text = unit.text.slice(body[0]?.start, body[body.length - 1]?.end).replace(/\s+/g, ' ');
  return text.length > 24 ? `${text.slice(0, 23)}…` : text;
}

/** Each item's map is followed from every spot; where it closes on itself, its lines are marked. */
function markCycles(
  maps: Map<string, Map<number, { to: number; count: number }>>,
  lineOf: (from: number, to: number) => Line,
  name: (spot: number) => string,
): SpotMap['cycles'] {
  const cycles: { item: string; names: string[] }[] = [];
  for (const [item, map] of maps) {
    const done = new Set<number>();
    for (const from of map.keys()) {
      const course: number[] = [];
      const at = new Map<number, number>();
      let spot: number | undefined = from;
      while (spot !== undefined && !done.has(spot) && !at.has(spot)) {
        at.set(spot, course.length);
        course.push(spot);
        spot = map.get(spot)?.to;
      }
      for (const each of course) done.add(each);
      const entry = spot === undefined ? undefined : at.get(spot);
      if (entry === undefined) continue;
      const cycle = course.slice(entry);
      // A spot that an item leaves where it is, is no cycle to speak of.
      if (cycle.length < 2) continue;
      cycle.forEach((each, i) => {
        const line = lineOf(each, cycle[(i + 1) % cycle.length] ?? each);
        line.cycle = line.cycle === '' ? item : line.cycle;
      });
      const names = cycle.map((each) => `@${name(each)}`);
      const least = names.indexOf([...names].sort()[0] ?? '');
      cycles.push({ item, names: [...names.slice(least), ...names.slice(0, least)] });
    }
  }
  return cycles;
}

function markRoute(
  scope: Scope,
  route: { declaration: RouteDeclaration; unit: Unit; choices: Choices },
  lineOf: (from: number, to: number) => Line,
  roles: Map<number, MapSpot['role']>,
  onRoute: Set<number>,
): void {
  const { log, grounds } = knownOf(scope);
  const { declaration, unit, choices } = route;
  const starts = startsOf(declaration, log);
  const first = starts?.list[0];
  if (starts === undefined || first === undefined) return;
  // From anywhere, every spot would be marked: that says nothing.
  const marked = declaration.from === 'anywhere' ? [] : starts.list;
  for (const spot of marked) roles.set(spot, 'start');
  if (declaration.to !== undefined) {
    const goal = log.spot(declaration.to.name);
    roles.set(goal, roles.get(goal) === 'start' ? 'both' : 'goal');
  }
  let count = 0;
  const watch = {
    row(from: number, { to }: Outcome): void {
      onRoute.add(from).add(to);
      const line = lineOf(from, to);
      if (line.order.length < 3) line.order.push(++count);
    },
  };
  const places = new Places();
  places.add(first, start(first));
  const sequence = new Resolver(scope, choices).resolve(declaration.body, unit);
  new Follower(log, grounds, { watch, likely: true }).follow(compile(sequence, log.tokens), places);
}
