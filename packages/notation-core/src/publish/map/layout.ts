import * as library from '@dagrejs/dagre';
import type { MapMove, MapSpot, SpotMap } from './graph.js';

/** What is used of the library; its own types do not resolve from an ES module. */
interface LayoutGraph {
  setGraph(settings: Readonly<Record<string, unknown>>): void;
  setNode(id: string, size: { width: number; height: number }): void;
  setEdge(from: string, to: string, label: Readonly<Record<string, unknown>>, name: string): void;
  graph(): { width?: number; height?: number };
  node(id: string): Box;
  edge(from: string, to: string, name: string): Line;
}
const dagre = library as unknown as {
  Graph: new (options: { directed: boolean; multigraph: boolean }) => LayoutGraph;
  layout(graph: LayoutGraph): void;
};

/** All lengths in pixels of the drawing. */
export interface PlacedSpot {
  readonly spot: MapSpot;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}
export interface PlacedMove {
  readonly move: MapMove;
  readonly points: readonly { readonly x: number; readonly y: number }[];
  /** Lines of the label and its middle. */
  readonly label: readonly string[];
  readonly x: number;
  readonly y: number;
}
export interface PlacedMap {
  readonly width: number;
  readonly height: number;
  readonly spots: readonly PlacedSpot[];
  readonly moves: readonly PlacedMove[];
}

export const LETTER = 7.3;
export const SMALL = 6.1;
const LABELS = 2;

/** Wide enough for a screen, not so wide that nothing can be read on it. */
const ASPECT = 1.6;
const SCREEN = 1400;

/**
 * Lays the map out in layers (dagre: Gansner et al., "A technique for drawing directed graphs",
 * 1993), across or down the page, whichever comes nearer to the shape of a screen.
 */
export function placeMap(map: SpotMap): PlacedMap {
  const off = ({ width, height }: PlacedMap): number => Math.abs(Math.log(width / height / ASPECT));
  const across = laidOut(map, 'LR');
  if (across.width <= SCREEN || off(across) < 0.5) return across;
  const down = laidOut(map, 'TB');
  return off(down) < off(across) ? down : across;
}

function laidOut(map: SpotMap, rankdir: 'LR' | 'TB'): PlacedMap {
  const graph = new dagre.Graph({ directed: true, multigraph: true });
  graph.setGraph({
    rankdir,
    nodesep: 26,
    ranksep: rankdir === 'LR' ? 60 : 34,
    edgesep: 14,
    marginx: 24,
    marginy: 24,
  });
  for (const spot of map.spots) {
    const cue = shortened(spot.cue);
    const width = Math.max(spot.name.length * LETTER, cue.length * SMALL, 34) + 22;
    graph.setNode(String(spot.id), { width, height: cue === '' ? 30 : 44 });
  }
  const labels = new Map<MapMove, string[]>();
  const layer = layersOf(map);
  const ends = map.moves.map((move): [string, string, boolean] => {
    const back = (layer.get(move.from) ?? 0) > (layer.get(move.to) ?? 0);
    const [from, to] = [String(move.from), String(move.to)];
    return back ? [to, from, true] : [from, to, false];
  });
  map.moves.forEach((move, i) => {
    const label = moveLabel(move);
    labels.set(move, label);
    const width = Math.max(...label.map((line) => line.length)) * SMALL + 8;
    // Lines of the route and of cycles are kept short and straight before the others.
    const weight = move.order.length > 0 ? 60 : move.cycle !== '' ? 12 : 1;
    const badge = move.order.length > 0 ? 17 : 0;
    const size = { width, height: label.length * 13 + 2 + badge, weight, labelpos: 'c' as const };
    const [from, to] = ends[i] ?? ['', ''];
    graph.setEdge(from, to, size, String(i));
  });
  dagre.layout(graph);
  const { width = 0, height = 0 } = graph.graph();
  const spots = map.spots.map((spot) => {
    const { x, y, width: w, height: h } = graph.node(String(spot.id));
    return { spot, x, y, width: w, height: h };
  });
  const moves = map.moves.map((move, i) => {
    const [from, to, back] = ends[i] ?? ['', '', false];
    const edge = graph.edge(from, to, String(i));
    const label = labels.get(move) ?? [];
    if (move.from === move.to) {
      const self = graph.node(from);
      // The layout keeps room below the spot; the bow itself is ours.
      const y = self.y + self.height / 2;
      const points = [
        { x: self.x - 9, y },
        { x: self.x, y: y + 22 },
        { x: self.x + 9, y },
      ];
      const widest = Math.max(...label.map((line) => line.length)) * SMALL;
      return { move, points, label, x: self.x + 24 + widest / 2, y: y + 14 };
    }
    const points = back ? [...edge.points].reverse() : edge.points;
    return { move, points, label, x: edge.x ?? 0, y: edge.y ?? 0 };
  });
  return { width, height, spots, moves };
}

/**
 * How many moves each spot is from where the map begins: the course of the route in its order,
 * then what is reached from it. Lines are laid from nearer to further spots, so that a map is as
 * long as its longest way and not as all of its detours one behind the other.
 */
function layersOf(map: SpotMap): ReadonlyMap<number, number> {
  const layer = new Map<number, number>();
  const next = new Map<number, number[]>();
  for (const { from, to } of map.moves) {
    const list = next.get(from);
    if (list === undefined) next.set(from, [to]);
    else list.push(to);
  }
  const course = map.moves
    .flatMap((move) => move.order.map((order) => ({ order, move })))
    .sort((a, b) => a.order - b.order)
    .map(({ move }) => move);
  const seeds = [...course.slice(0, 1).map(({ from }) => from), ...course.map(({ to }) => to)];
  const reach = (spot: number, distance: number): void => {
    if (!layer.has(spot)) layer.set(spot, distance);
  };
  for (const spot of seeds) reach(spot, layer.size);
  for (const start of [...seeds, ...map.spots.map(({ id }) => id)]) {
    reach(start, 0);
    // By breadth: the map's own order is the order of the queue.
    const queue = [...layer.keys()];
    for (const spot of queue) {
      for (const to of next.get(spot) ?? []) {
        if (layer.has(to)) continue;
        layer.set(to, (layer.get(spot) ?? 0) + 1);
        queue.push(to);
      }
    }
  }
  return layer;
}

interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}
interface Line {
  points: { x: number; y: number }[];
  x?: number;
  y?: number;
}

export function shortened(cue: string): string {
  return cue.length > 26 ? `${cue.slice(0, 25)}…` : cue;
}

function moveLabel(move: MapMove): string[] {
  const shown = move.labels.slice(0, LABELS);
  const more = move.labels.length - shown.length;
  return more > 0 ? [...shown, `+ ${more} more`] : shown.length > 0 ? shown : [''];
}
