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

/** Lays the map out in layers (dagre: Gansner et al., "A technique for drawing directed graphs", 1993). */
export function placeMap(map: SpotMap): PlacedMap {
  const graph = new dagre.Graph({ directed: true, multigraph: true });
  graph.setGraph({
    rankdir: 'LR',
    nodesep: 26,
    ranksep: 60,
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
  map.moves.forEach((move, i) => {
    const label = moveLabel(move);
    labels.set(move, label);
    const width = Math.max(...label.map((line) => line.length)) * SMALL + 8;
    // Lines of the route and of cycles are kept short and straight before the others.
    const weight = move.order.length > 0 ? 8 : move.cycle !== '' ? 4 : 1;
    const size = { width, height: label.length * 13 + 2, weight, labelpos: 'c' as const };
    graph.setEdge(String(move.from), String(move.to), size, String(i));
  });
  dagre.layout(graph);
  const { width = 0, height = 0 } = graph.graph();
  const spots = map.spots.map((spot) => {
    const { x, y, width: w, height: h } = graph.node(String(spot.id));
    return { spot, x, y, width: w, height: h };
  });
  const moves = map.moves.map((move, i) => {
    const edge = graph.edge(String(move.from), String(move.to), String(i));
    const label = labels.get(move) ?? [];
    const self = move.from === move.to ? graph.node(String(move.from)) : undefined;
    if (self !== undefined) {
      // The layout keeps room below the spot; the bow itself is ours.
      const y = self.y + self.height / 2;
      const points = [
        { x: self.x - 9, y },
        { x: self.x, y: y + 22 },
        { x: self.x + 9, y },
      ];
      return { move, points, label, x: self.x + 30, y: y + 20 };
    }
    return { move, points: edge.points, label, x: edge.x ?? 0, y: edge.y ?? 0 };
  });
  return { width, height, spots, moves };
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
