import type { SpotMap } from './graph.js';
import {
  type PlacedMap,
  type PlacedMove,
  type PlacedSpot,
  placeMap,
  shortened,
  SMALL,
} from './layout.js';

/**
 * The map as one SVG file that needs nothing beside it. What matters is told by shape and
 * words as well as by colour: the course of the route by thick lines with numbers, cycles by
 * double lines, paused spots by a broken outline, start and goal by words.
 */
export function mapSvg(map: SpotMap): string {
  const placed = placeMap(map);
  const legend = legendLines(map);
  const width = Math.ceil(Math.max(placed.width, 420));
  const top = 44;
  const height = Math.ceil(placed.height + top + 18 * legend.length + 16);
  const parts = [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-labelledby="map-title map-desc">`,
    `<title id="map-title">${text(map.title)}: spots and moves</title>`,
    `<desc id="map-desc">${text(description(map))}</desc>`,
    `<style>${STYLE}</style>`,
    `<rect class="paper" width="${width}" height="${height}"/>`,
    `<text class="head" x="24" y="30">${text(map.title)}</text>`,
    `<g transform="translate(0 ${top - 16})">`,
    ...linesOf(placed),
    ...placed.spots.map(spotShape),
    ...placed.moves.map(moveLabel),
    '</g>',
    ...legend.map((line, i) => {
      const y = placed.height + top + 18 * i + 8;
      return `<text class="legend" x="24" y="${number(y)}">${text(line)}</text>`;
    }),
    '</svg>',
  ];
  return `${parts.join('\n')}\n`;
}

/** Colours by name, for light and for dark surroundings. */
const COLOURS = {
  ink: ['#1b2733', '#e8edf2'],
  soft: ['#5b6b7a', '#9fb0c0'],
  paper: ['#fbfaf7', '#161b21'],
  way: ['#0b5d8f', '#7cc4ee'],
  ring: ['#8a4b08', '#f0b36a'],
  spot: ['#ffffff', '#222a33'],
} as const;

const RULES = [
  '.paper{fill:$paper}',
  'text{fill:$ink;font-family:ui-monospace,monospace}',
  '.head{font:600 17px system-ui,sans-serif}',
  '.legend,.cue{font:11px system-ui,sans-serif;fill:$soft}',
  '.name{font-size:12px;font-weight:600;text-anchor:middle}',
  '.cue{text-anchor:middle;font-size:10px}',
  '.role{font:600 10px system-ui,sans-serif;fill:$way}',
  '.move{fill:none;stroke:$soft;stroke-width:1.1}',
  '.tip{fill:$soft}',
  '.round{stroke:$ring;stroke-width:4.6}',
  '.gap{fill:none;stroke:$paper;stroke-width:1.8}',
  '.tip.round{fill:$ring;stroke:none}',
  '.way{stroke:$way;stroke-width:3.4}',
  '.way.twin{stroke-width:6.4}',
  '.tip.way{fill:$way;stroke:none}',
  '.label{font-size:10px;text-anchor:middle;paint-order:stroke;stroke:$paper;stroke-width:3px;stroke-linejoin:round}',
  '.spot{fill:$spot;stroke:$ink;stroke-width:1.2}',
  '.spot.ring{stroke:$ring;stroke-width:2.6}',
  '.spot.path{stroke:$way;stroke-width:2.6}',
  '.spot.still{stroke-dasharray:5 3}',
  '.step{fill:$way}',
  '.count{font-size:10px;font-weight:700;text-anchor:middle;fill:$paper}',
];

/** Plain colours, as not every program that shows SVG knows variables; then what is dark instead. */
const STYLE = `${coloured(RULES, 0)}@media (prefers-color-scheme:dark){${coloured(RULES, 1)}}`;

function coloured(rules: readonly string[], scheme: 0 | 1): string {
  const shown = scheme === 0 ? rules : rules.filter((rule) => rule.includes('$'));
  return shown
    .join('')
    .replace(
      /\$(ink|soft|paper|way|ring|spot)/g,
      (_, name: keyof typeof COLOURS) => COLOURS[name][scheme],
    );
}

function linesOf(placed: PlacedMap): string[] {
  // Thick lines last, so that the course lies on top.
  const rank = ({ move }: PlacedMove): number =>
    move.order.length > 0 ? 2 : move.cycle !== '' ? 1 : 0;
  return [...placed.moves].sort((a, b) => rank(a) - rank(b)).flatMap(moveLine);
}

function moveLine({ move, points }: PlacedMove): string[] {
  const kind = move.order.length > 0 ? ' way' : move.cycle !== '' ? ' round' : '';
  // On the course and round a cycle: as thick as the one, as double as the other.
  const twin = kind === ' way' && move.cycle !== '' ? ' twin' : '';
  const path = move.from === move.to ? rounded(points) : smooth(points);
  const parts = [`<path class="move${kind}${twin}" d="${path}"/>`];
  if (move.cycle !== '') parts.push(`<path class="gap" d="${path}"/>`);
  parts.push(tip(points, kind));
  return parts;
}

/** Through the middles of the legs, so that the line bends where the layout has its corners. */
function smooth(points: readonly { x: number; y: number }[]): string {
  const [first, ...rest] = points;
  if (first === undefined) return 'M0 0';
  const parts = [`M${number(first.x)} ${number(first.y)}`];
  for (let i = 0; i < rest.length; i++) {
    const corner = rest[i];
    const next = rest[i + 1];
    if (corner === undefined) continue;
    if (next === undefined) parts.push(`L${number(corner.x)} ${number(corner.y)}`);
    else {
      const x = (corner.x + next.x) / 2;
      const y = (corner.y + next.y) / 2;
      parts.push(`Q${number(corner.x)} ${number(corner.y)} ${number(x)} ${number(y)}`);
    }
  }
  return parts.join('');
}

/** A bow below a spot, from it and back to it. */
function rounded(points: readonly { x: number; y: number }[]): string {
  const [from, low, to] = points;
  if (from === undefined || low === undefined || to === undefined) return 'M0 0';
  const at = (x: number, y: number): string => `${number(x)} ${number(y)}`;
  return `M${at(from.x, from.y)}C${at(from.x - 8, low.y)} ${at(to.x + 8, low.y)} ${at(to.x, to.y)}`;
}

function tip(points: readonly { x: number; y: number }[], kind: string): string {
  const end = points[points.length - 1] ?? { x: 0, y: 0 };
  const before = points[points.length - 2] ?? end;
  const angle = Math.atan2(end.y - before.y, end.x - before.x);
  const size = kind === '' ? 7 : 11;
  const corner = (turn: number): string =>
    `${number(end.x - size * Math.cos(angle + turn))} ${number(end.y - size * Math.sin(angle + turn))}`;
  return `<path class="tip${kind}" d="M${number(end.x)} ${number(end.y)}L${corner(0.42)}L${corner(-0.42)}Z"/>`;
}

function spotShape({ spot, x, y, width, height }: PlacedSpot): string {
  const classes = ['spot', ...(spot.inCycle ? ['ring'] : []), ...(spot.onRoute ? ['path'] : []), ...(spot.paused ? ['still'] : [])]; // prettier-ignore
  const cue = shortened(spot.cue);
  const role = { start: 'start', goal: 'goal', both: 'start and goal', '': '' }[spot.role];
  const above = [role, spot.paused ? 'paused' : ''].filter((word) => word !== '').join(', ');
  return [
    '<g>',
    `<title>${text([spot.name, spot.cue, above].filter((each) => each !== '').join(', '))}</title>`,
    `<rect class="${classes.join(' ')}" x="${number(x - width / 2)}" y="${number(y - height / 2)}" width="${number(width)}" height="${number(height)}" rx="9"/>`,
    `<text class="name" x="${number(x)}" y="${number(cue === '' ? y + 4 : y - 2)}">${text(spot.name)}</text>`,
    cue === ''
      ? ''
      : `<text class="cue" x="${number(x)}" y="${number(y + 13)}">${text(cue)}</text>`,
    above === ''
      ? ''
      : `<text class="role" x="${number(x - width / 2 + 2)}" y="${number(y - height / 2 - 4)}">${above}</text>`,
    '</g>',
  ]
    .filter((part) => part !== '')
    .join('');
}

function moveLabel({ move, label, x, y }: PlacedMove): string {
  const top = y - (label.length - 1) * 6.5 + 3;
  const widest = Math.max(...label.map((line) => line.length)) * SMALL + 6;
  const lines = label.map(
    (line, i) =>
      `<text class="label" x="${number(x)}" y="${number(top + i * 13)}">${text(line)}</text>`,
  );
  if (widest > 6) {
    const high = label.length * 13;
    lines.unshift(
      `<rect class="paper" x="${number(x - widest / 2)}" y="${number(top - 10)}" width="${number(widest)}" height="${high}"/>`,
    );
  }
  if (move.order.length > 0) {
    const words = move.order.join(', ');
    const wide = Math.max(9, words.length * 3.4 + 5);
    const at = top - 17;
    lines.push(
      `<rect class="step" x="${number(x - wide)}" y="${number(at - 9)}" width="${number(2 * wide)}" height="17" rx="8.5"/>`,
      `<text class="count" x="${number(x)}" y="${number(at + 3.5)}">${words}</text>`,
    );
  }
  return lines.join('');
}

function legendLines(map: SpotMap): string[] {
  const lines = map.cycles.map(
    ({ item, names }) =>
      `double line: repeating ${item} goes round ${[...names, names[0] ?? ''].join(' > ')}`,
  );
  if (map.moves.some((move) => move.order.length > 0)) {
    lines.push('thick line with numbers: the course of the route, from its first start');
  }
  if (map.spots.some((spot) => spot.paused)) lines.push('broken outline: a state inside a pause');
  return lines.slice(0, 8);
}

function description(map: SpotMap): string {
  const steps = map.moves
    .flatMap((move) => move.order.map((order) => ({ order, move })))
    .sort((a, b) => a.order - b.order);
  const names = new Map(map.spots.map((spot) => [spot.id, spot.name]));
  const course = steps.map(({ move }) => names.get(move.to) ?? '').join(', ');
  const counts = `${map.spots.length} spots, ${map.moves.length} lines between them.`;
  const first = names.get(steps[0]?.move.from ?? -1) ?? '';
  return course === '' ? counts : `${counts} The route goes ${first}, ${course}.`;
}

function number(value: number): string {
  return String(Math.round(value * 10) / 10);
}

function text(value: string): string {
  return value
    .replace(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, '\ufffd')
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;');
}
