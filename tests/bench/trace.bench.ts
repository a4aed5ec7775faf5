import { programOf } from '@core/model/program.js';
import { Resolver } from '@core/model/resolve.js';
import { type Scope, scopeOf } from '@core/model/scope.js';
import { start } from '@core/positions/atoms.js';
import { compile, type Node } from '@core/positions/compile.js';
import { knownOf } from '@core/positions/context.js';
import { Follower } from '@core/positions/follow.js';
import { Places } from '@core/positions/places.js';
import { traceRoute } from '@core/positions/trace.js';
import { random } from './notes.js';
import type { Bench, Row } from './rows.js';
import { interleaved } from './timing.js';

declare const gc: () => void;

const ITEMS = ['U', 'U2', 'R', 'UR3', '[U1]', 'D-R', 'R D', 'L4'];
const GAME = `game "Slate Quay" {
  clock 60 settle 5
  inputs { U = y -1 D = y +1 L = x -1 R = x +1 }
  pause P { open 2 dwell 4 resume 2 }
}
`;

/** Every item from every spot: `rows` rows, spread over an eighth as many spots. */
function logOf(rows: number, more = ''): string {
  const next = random(7);
  const spots = rows / ITEMS.length;
  const lines = [`${GAME}seen {`];
  for (let spot = 0; spot < spots; spot++) {
    for (const item of ITEMS) {
      lines.push(`  @s${spot} : ${item} -> @s${Math.floor(next() * spots)} x${1 + Math.floor(next() * 9)}`); // prettier-ignore
    }
  }
  lines.push('}');
  return Buffer.from(`${lines.join('\n')}\n${more}`).toString();
}

function scopeFor(text: string): Scope {
  const program = programOf(text);
  const [file] = program.files.values();
  if (file === undefined) throw new Error('the note is there');
  return scopeOf(program, file);
}

function routeOf(scope: Scope) {
  const [route] = scope.routes.values();
  if (route === undefined) throw new Error('the route is there');
  return route;
}

function nodesOf(scope: Scope): Node[] {
  const { declaration, unit } = routeOf(scope);
  const { log } = knownOf(scope);
  return compile(new Resolver(scope).resolve(declaration.body, unit), log.tokens);
}

const ROUTE = 10_000;
const LOG = 100_000;
const GREAT = 1_000_000_000_000;

function route(): string {
  const next = random(11);
  const singles = ITEMS.filter((item) => !item.includes(' '));
  const items = Array.from({ length: ROUTE }, () => singles[Math.floor(next() * singles.length)]);
  return `route long from @s0 {\n${items.join(' ')}\n}\n`;
}

/** Follows compiled nodes from one spot; the end must be known, or nothing was measured. */
function followed(scope: Scope, nodes: readonly Node[], name: string): Places {
  const { log, grounds } = knownOf(scope);
  const places = new Places();
  const from = log.spot(name);
  places.add(from, start(from));
  const end = new Follower(log, grounds).follow(nodes, places);
  if (end.size === 0 || end.has(-1)) throw new Error('the route was lost');
  return end;
}

/** A chain into a ring: so many taps until it goes round, and so many round. */
function ring(tail: number, cycle: number, times: number): string {
  const lines = [`${GAME}seen {`];
  const size = tail + cycle;
  for (let i = 0; i < size; i++) lines.push(`  @s${i} : D -> @s${i + 1 < size ? i + 1 : tail} x2`);
  lines.push(`}\nroute round from @s0 { D*${times} }\n`);
  return lines.join('\n');
}

function speed(): Row[] {
  const scope = scopeFor(logOf(LOG, route()));
  const { declaration, unit } = routeOf(scope);
  const nodes = nodesOf(scope);
  const steps = traceRoute(declaration, unit, scope).steps;
  if (steps.length !== ROUTE || steps.some((step) => step.unknown)) throw new Error('not followed');
  const times = interleaved([
    { name: 'follow', run: () => followed(scope, nodes, 's0') },
    { name: 'trace', run: () => traceRoute(declaration, unit, scope) },
  ]);
  const perSecond = (name: string) => ROUTE / ((times.get(name) ?? NaN) / 1000) / 1e6;
  return [
    {
      what: 'items a second of a route of 10,000 over a log of 100,000 rows, in millions',
      measured: perSecond('follow'),
      target: { atLeast: 1 },
      figures: `${perSecond('follow').toFixed(2)} million/s followed`,
    },
    {
      what: 'the same with its meaning, its steps and their proofs made anew, in millions',
      measured: perSecond('trace'),
      target: { atLeast: 0.2 },
      figures: `${perSecond('trace').toFixed(2)} million/s from text to trace`,
    },
  ];
}

function repeats(): Row[] {
  const few = scopeFor(ring(3000, 2000, 5000));
  const many = scopeFor(ring(3000, 2000, GREAT));
  const [fewNodes, manyNodes] = [nodesOf(few), nodesOf(many)];
  const times = interleaved([
    { name: 'few', run: () => followed(few, fewNodes, 's0') },
    { name: 'many', run: () => followed(many, manyNodes, 's0') },
  ]);
  const [a = NaN, b = NaN] = [times.get('few'), times.get('many')];
  return [
    {
      what: 'D*1000000000000 over a tail of 3,000 and a cycle of 2,000, times D*5000',
      measured: b / a,
      target: { atMost: 2 },
      figures: `${b.toFixed(1)} against ${a.toFixed(1)} ms`,
    },
  ];
}

function memory(): Row[] {
  gc();
  const resident = (): number => process.resourceUsage().maxRSS / 1024;
  const scope = scopeFor(logOf(1_000_000, route()));
  const { log } = knownOf(scope);
  if (log.rowCount !== 1_000_000) throw new Error('the log was not read whole');
  const { declaration, unit } = routeOf(scope);
  const { steps } = traceRoute(declaration, unit, scope);
  if (steps.length !== ROUTE || steps.some((step) => step.unknown)) throw new Error('not followed');
  const peak = resident();
  return [
    {
      what: 'most memory of a log of a million rows, loaded and traced, of 1500 MB',
      measured: peak / 1500,
      target: { atMost: 1 },
      figures: `${peak.toFixed(0)} MB resident`,
    },
  ];
}

export const bench: Bench = {
  name: 'trace',
  run: () => Promise.resolve([...speed(), ...repeats(), ...memory()]),
};
