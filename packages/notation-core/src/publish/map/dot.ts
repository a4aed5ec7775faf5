import type { MapMove, MapSpot, SpotMap } from './graph.js';

/** The map in the DOT language (Graphviz, "The DOT Language", ID and quoted strings). */
export function mapDot(map: SpotMap): string {
  const lines = [
    'digraph spots {',
    `  label=${quoted(map.title)};`,
    '  rankdir=LR;',
    '  node [shape=box, style=rounded, fontname="sans-serif"];',
    '  edge [fontname="monospace", fontsize=10];',
  ];
  for (const spot of map.spots) lines.push(`  ${quoted(spot.name)} [${nodeAttributes(spot)}];`);
  const names = new Map(map.spots.map((spot) => [spot.id, spot.name]));
  for (const move of map.moves) {
    const from = quoted(names.get(move.from) ?? '');
    lines.push(`  ${from} -> ${quoted(names.get(move.to) ?? '')} [${edgeAttributes(move)}];`);
  }
  lines.push('}');
  return `${lines.join('\n')}\n`;
}

function nodeAttributes(spot: MapSpot): string {
  const label = spot.cue === '' ? spot.name : `${spot.name}\n${spot.cue}`;
  const style = ['rounded', ...(spot.paused ? ['dashed'] : []), ...(spot.inCycle ? ['bold'] : [])];
  const rings = spot.role === '' ? [] : ['peripheries=2'];
  return [`label=${quoted(label)}`, `style=${quoted(style.join(','))}`, ...rings].join(', ');
}

function edgeAttributes(move: MapMove): string {
  const order = move.order.length > 0 ? [`step ${move.order.join(', ')}`] : [];
  const label = quoted([...order, ...move.labels].join('\n'));
  const width = move.order.length > 0 ? 3 : move.cycle !== '' ? 2 : 1;
  const style = move.cycle !== '' ? ', style=bold' : '';
  return `label=${label}, penwidth=${width}${style}`;
}

function quoted(text: string): string {
  return `"${text.replace(/\\/g, '\\\\').replace(/"/g, '\\"').replace(/\n/g, '\\n')}"`;
}
