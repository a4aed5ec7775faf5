import { DirectedGraph } from 'graphology';
import { singleSourceLength } from 'graphology-shortest-path/unweighted.js';
import createGraph from 'ngraph.graph';
import { aStar, nba } from 'ngraph.path';
import { programOf } from '@core/model/program.js';
import { scopeOf } from '@core/model/scope.js';
import { Combiner } from '@core/positions/combine.js';
import { costsFrom, stepsFrom } from '@core/positions/distances.js';
import { graphOf } from '@core/positions/graph.js';
import { Log } from '@core/positions/log.js';
import { leastByMilp, loadHighs } from '../support/milp.js';
import { LETTERS, type Puzzle, puzzleFrom, puzzleNote } from '../support/puzzle.js';
import type { Bench, Row } from './rows.js';
import { interleaved } from './timing.js';
import { random } from './notes.js';

/** Loading and searching the 8-puzzle written as a log, and adding up moves on open ground. */
export const bench: Bench = {
  name: 'find',
  async run() {
    const puzzle = puzzleFrom();
    const text = puzzleNote(puzzle);
    return [...loading(puzzle, text), ...distances(puzzle, text), ...(await ground())];
  },
};

function load(text: string): Log {
  const program = programOf(text);
  const file = program.files.get(program.entries[0] ?? '');
  if (file === undefined) throw new Error('the note is not there');
  return new Log(scopeOf(program, file));
}

function loading(puzzle: Puzzle, text: string): Row[] {
  // Once, before anything else: later there is garbage of other rounds and of the peer.
  const first = load(text);
  const megabytes = process.memoryUsage.rss() / 1e6;
  const rows = Array.from(puzzle.from, (from, row) => ({
    from: `p${from}`,
    items: LETTERS[puzzle.move[row] ?? 0],
    to: `p${puzzle.to[row] ?? 0}`,
    count: 2,
  }));
  const json = JSON.stringify(rows);
  if (first.rowCount !== rows.length) throw new Error('rows are missing');
  const times = interleaved(
    [
      { name: 'load', run: () => load(text) },
      { name: 'json', run: () => JSON.parse(json) as unknown },
    ],
    { rounds: 5, slice: 1, warm: 1 },
  );
  const ours = times.get('load') ?? NaN;
  const theirs = times.get('json') ?? NaN;
  return [
    {
      what: `parse and load ${rows.length} rows / JSON.parse of the same`,
      measured: ours / theirs,
      target: { atMost: 15 },
      figures: `${ours.toFixed(0)} ms, ${theirs.toFixed(0)} ms`,
    },
    {
      what: 'resident memory after that, in GB',
      measured: megabytes / 1000,
      target: { atMost: 1 },
      figures: `${megabytes.toFixed(0)} MB`,
    },
  ];
}

function distances(puzzle: Puzzle, text: string): Row[] {
  const graph = graphOf(load(text));
  const peer = new DirectedGraph();
  const small = createGraph<undefined, undefined>();
  puzzle.boards.forEach((_, at) => {
    peer.addNode(`p${at}`);
    small.addNode(at);
  });
  puzzle.from.forEach((from, row) => {
    peer.addDirectedEdge(`p${from}`, `p${puzzle.to[row] ?? 0}`);
    small.addLink(from, puzzle.to[row] ?? 0);
  });
  const ours = stepsFrom(graph, 0);
  const theirs = singleSourceLength(peer, 'p0');
  let far = 0;
  ours.forEach((steps, spot) => {
    if (theirs[`p${spot}`] !== steps) throw new Error('distances differ');
    if (steps > (ours[far] ?? 0)) far = spot;
  });
  // Point to point is all that it has: to the farthest spot it sees all or much of the graph.
  const star = aStar(small, { oriented: true });
  const both = nba(small, { oriented: true });
  if (star.find(0, far).length !== 32) throw new Error('a way differs');
  const ones = new Float64Array(graph.to.length).fill(1);
  const times = interleaved(
    [
      { name: 'ours', run: () => stepsFrom(graph, 0) },
      { name: 'weighted', run: () => costsFrom(graph, 0, ones) },
      { name: 'graphology', run: () => singleSourceLength(peer, 'p0') },
      { name: 'aStar', run: () => star.find(0, far) },
      { name: 'nba', run: () => both.find(0, far) },
    ],
    { rounds: 5, slice: 200, warm: 300 },
  );
  const of = (name: string): number => times.get(name) ?? NaN;
  const figures = (name: string): string => `${of(name).toFixed(1)} ms, ${of('ours').toFixed(2)} ms (by weights ${of('weighted').toFixed(1)} ms)`; // prettier-ignore
  return [
    {
      what: 'all distances: graphology-shortest-path / ours',
      measured: of('graphology') / of('ours'),
      target: { atLeast: 10 },
      figures: figures('graphology'),
    },
    {
      what: 'all distances: ngraph.path (A* to the farthest spot) / ours',
      measured: of('aStar') / of('ours'),
      target: { atLeast: 5 },
      figures: figures('aStar'),
    },
    {
      what: 'all distances: ngraph.path (from both ends) / ours',
      measured: of('nba') / of('ours'),
      target: { atLeast: 5 },
      figures: figures('nba'),
    },
  ];
}

/** Ten grounds of 24 moves, each asked for offsets of a few thousand units. */
async function ground(): Promise<Row[]> {
  const highs = await loadHighs();
  const next = random(7);
  const below = (n: number): number => Math.floor(next() * n);
  const cases = Array.from({ length: 10 }, () => {
    const moves = Array.from({ length: 24 }, () => [below(61) - 30, below(61) - 30]);
    const costs = moves.map(() => 8 + below(40));
    const offset = [1000 + below(4000), -1000 - below(4000)];
    return { moves, costs, offset };
  });
  for (const { moves, costs, offset } of cases) {
    const answer = new Combiner(moves, costs).solve(offset);
    const wanted = leastByMilp(highs, moves, costs, offset);
    if (answer.kind !== 'counts' || answer.best.cost !== wanted) throw new Error('counts differ');
  }
  const times = interleaved(
    [
      {
        name: 'ours',
        run: () =>
          cases.map(({ moves, costs, offset }) => new Combiner(moves, costs).solve(offset)),
      },
      {
        name: 'highs',
        run: () =>
          cases.map(({ moves, costs, offset }) => leastByMilp(highs, moves, costs, offset)),
      },
    ],
    { rounds: 5, slice: 200, warm: 200 },
  );
  const ours = (times.get('ours') ?? NaN) / cases.length;
  const theirs = (times.get('highs') ?? NaN) / cases.length;
  return [
    {
      what: '24 moves to an offset of thousands: highs / ours',
      measured: theirs / ours,
      target: { atLeast: 10 },
      figures: `${theirs.toFixed(2)} ms, ${ours.toFixed(3)} ms`,
    },
  ];
}
