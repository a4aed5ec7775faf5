import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type ASTNode, parse as parseDot } from '@ts-graphviz/ast';
import { Resvg } from '@resvg/resvg-js';
import fc from 'fast-check';
import { SaxesParser } from 'saxes';
import { afterAll, describe, expect, test } from 'vitest';
import { mapDot } from '@core/publish/map/dot.js';
import { spotMap, type SpotMap } from '@core/publish/map/graph.js';
import { placeMap } from '@core/publish/map/layout.js';
import { mapSvg } from '@core/publish/map/svg.js';
import { root } from '../house/workspace.js';
import { routeOf, scopeFor } from '../positions/note.js';

const GAME = 'game "Tin <Pier> & \\"Co\\"" { clock 60 settle 5 inputs { U = y -1 D = y +1 L = x -1 R = x +1 J = jump } pause P { open 2 dwell 4 resume 2 } }\n'; // prettier-ignore
const LOG = `spot @a "ash & <soot>"
spot @p paused "spray"
seen {
  @a : U -> @b x4
  @b : U -> @c x5
  @c : U -> @b x6
  @c : R -> @d x2
  @c : R2 -> @d x7
  @c : L -> @d x1
  @b : U0-[] -> @p x2
  @p : [] -> @a x2
  @d : D -> @d x3
}
`;
const ROUTE = 'route walk "Along <&> the pier" from @a to @d { U*4 R }\n';

function mapOf(text: string, withRoute = true): SpotMap {
  const scope = scopeFor(text);
  return spotMap(scope, withRoute ? { ...routeOf(scope), choices: new Map() } : undefined);
}

/** Elements and texts, by a parser that knows namespaces and takes nothing that is not well-formed. */
function svgOf(svg: string) {
  const elements: { name: string; classes: string[]; uri: string }[] = [];
  let words = '';
  const parser = new SaxesParser({ xmlns: true });
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', ({ local, uri, attributes }) => {
    const classes = attributes.class?.value ?? '';
    elements.push({ name: local, classes: classes.split(' '), uri });
  });
  parser.on('text', (text) => (words += `${text}\n`));
  parser.write(svg).close();
  const count = (name: string, ...classes: string[]): number =>
    elements.filter((each) => each.name === name && classes.every((c) => each.classes.includes(c)))
      .length;
  return { elements, words, count };
}

/** Nodes and edges of a DOT text, by a reader of its own. */
function dotOf(dot: string) {
  const nodes = new Map<string, Record<string, string>>();
  const edges: { ends: string[]; attributes: Record<string, string> }[] = [];
  const attributesOf = (children: readonly ASTNode[]): Record<string, string> =>
    Object.fromEntries(
      children.flatMap((each) =>
        each.type === 'Attribute' ? [[each.key.value, each.value.value]] : [],
      ),
    );
  const visit = (node: ASTNode): void => {
    if (node.type === 'Node') nodes.set(node.id.value, attributesOf(node.children));
    if (node.type === 'Edge') {
      const ends = node.targets.map((target) =>
        target.type === 'NodeRef' ? target.id.value : '?',
      );
      edges.push({ ends, attributes: attributesOf(node.children) });
    }
    if (node.type === 'Graph' || node.type === 'Dot') node.children.forEach(visit);
  };
  visit(parseDot(dot));
  return { nodes, edges };
}

describe('the map of a log', () => {
  test('has a line for each pair of spots, cycles and the course of the route', () => {
    const map = mapOf(GAME + LOG + ROUTE);
    const name = new Map(map.spots.map((spot) => [spot.id, spot.name]));
    const lines = map.moves.map(
      (move) =>
        `${name.get(move.from) ?? ''} ${name.get(move.to) ?? ''} ${move.labels.join('/')} ${move.order.join(',')}`,
    );
    expect(lines).toEqual([
      '@a @b U x4 1',
      '@b @c U x5 2,4',
      '@c @b U x6 3',
      '@c @d R2 x7/R x2/L x1 5',
      '@b @p U0-[] x2 ',
      '@p @a [] x2 ',
      '@d @d D x3 ',
    ]);
    expect(map.cycles).toEqual([{ item: 'U', names: ['@b', '@c'] }]);
    expect(map.spots.filter((spot) => spot.paused).map((spot) => spot.name)).toEqual(['@p']);
  });

  test('shows no course where the route says no start, nor without a route', () => {
    for (const map of [mapOf(`${GAME}${LOG}route r { U }\n`), mapOf(GAME + LOG, false)]) {
      expect(map.moves.every((move) => move.order.length === 0)).toBe(true);
      expect(map.spots.every((spot) => spot.role === '')).toBe(true);
    }
  });
});

describe('as DOT', () => {
  test('another reader finds the same spots and lines', () => {
    const map = mapOf(GAME + LOG + ROUTE);
    const { nodes, edges } = dotOf(mapDot(map));
    expect([...nodes.keys()]).toEqual(map.spots.map((spot) => spot.name));
    expect(edges).toHaveLength(map.moves.length);
    const name = new Map(map.spots.map((spot) => [spot.id, spot.name]));
    edges.forEach(({ ends }, i) => {
      const move = map.moves[i];
      expect(ends).toEqual([name.get(move?.from ?? -1), name.get(move?.to ?? -1)]);
    });
  });

  test('holds any words that a note can hold', () => {
    const words = fc.string({ unit: 'grapheme', maxLength: 12 }).map((text) => text.replace(/["\\\p{Cc}]/gu, '')); // prettier-ignore
    fc.assert(
      fc.property(words, (cue) => {
        const { nodes } = dotOf(mapDot(mapOf(`${GAME}spot @a "${cue}"\nseen { @a : U -> @b }\n`, false))); // prettier-ignore
        expect([...nodes.keys()]).toEqual(['@a', '@b']);
      }),
      { numRuns: 200 },
    );
  });
});

describe('as SVG', () => {
  const folder = mkdtempSync(join(tmpdir(), 'map-'));
  afterAll(() => {
    rmSync(folder, { recursive: true });
  });
  const svg = mapSvg(mapOf(GAME + LOG + ROUTE));

  test('is well-formed, in one namespace, and needs nothing beside it', () => {
    const { elements, words } = svgOf(svg);
    expect(new Set(elements.map((each) => each.uri))).toEqual(new Set(['http://www.w3.org/2000/svg'])); // prettier-ignore
    expect(words).toContain('Along <&> the pier');
    expect(words).toContain('ash & <soot>');
    expect(svg).not.toMatch(/href|url\(|@import|<script|<foreignObject/);
  });

  test('tells course, cycle, pause and goal by shape and words, not by colour alone', () => {
    const { count, words } = svgOf(svg);
    expect(count('path', 'move', 'way')).toBe(4);
    expect(count('path', 'gap')).toBe(2);
    expect(count('rect', 'spot', 'still')).toBe(1);
    expect(words).toMatch(/^start$/m);
    expect(words).toMatch(/^goal$/m);
    expect(words).toMatch(/^paused$/m);
    expect(words).toMatch(/^2, 4$/m);
    expect(words).toContain('double line: repeating U goes round @b > @c > @b');
    expect(words).toContain('The route goes @a, @b, @c, @b, @c');
  });

  test('is drawn: there is ink on it, and its size is what it says', () => {
    const image = new Resvg(svg).render();
    const [, width, height] = /viewBox="0 0 (\d+) (\d+)"/.exec(svg) ?? [];
    expect([image.width, image.height]).toEqual([Number(width), Number(height)]);
    const { pixels } = image;
    const shades = new Set<number>();
    for (let i = 0; i < pixels.length; i += 4) shades.add(pixels.readUInt32LE(i));
    expect(shades.size).toBeGreaterThan(10);
  });

  test('is what the validator of the W3C takes for SVG, of logs of every size', () => {
    const files = [5, 20, 60].map((spots) => {
      const path = join(folder, `map${spots}.svg`);
      writeFileSync(path, mapSvg(mapOf(ringsOf(spots))));
      return path;
    });
    writeFileSync(join(folder, 'odd.svg'), svg);
    const jar = join(root, 'node_modules/vnu-jar/build/dist/vnu.jar');
    const bad = join(folder, 'bad.svg');
    writeFileSync(bad, svg.replace('<desc', '<dsec').replace('</desc', '</dsec'));
    const validate = (...paths: string[]) =>
      spawnSync('java', ['-jar', jar, '--svg', ...paths], { encoding: 'utf8' });
    const { status, stderr } = validate(join(folder, 'odd.svg'), ...files);
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    // It does say no.
    expect(validate(bad).status).toBe(1);
  });

  test('keeps words that XML cannot hold out, and takes any others', () => {
    const cue = 'a\u{1f54a}\ufffe\u200db';
    const { words } = svgOf(mapSvg(mapOf(`${GAME}spot @a "${cue}"\nseen { @a : U -> @b }\n`, false))); // prettier-ignore
    expect(words).toContain('a\u{1f54a}\ufffd\u200db');
  });
});

/** A log in which everything is tried from everywhere, with a route through it. */
function ringsOf(spots: number): string {
  const rows: string[] = [];
  for (let i = 0; i < spots; i++) {
    rows.push(`  @s${i} : U -> @s${i < 3 ? (i + 1) % 3 : i >> 1} x${2 + (i % 9)}`);
    rows.push(`  @s${i} : R -> @s${Math.min(spots - 1, 2 * i + 1)} x3`);
    rows.push(`  @s${i} : L -> @s${(7 * i + 3) % spots} x2`);
  }
  const cues = Array.from({ length: spots }, (_, i) => `spot @s${i} "cue number ${i}"`).join('\n');
  return `${GAME}${cues}\nseen {\n${rows.join('\n')}\n}\nroute walk from @s0 to @s${spots - 1} { R*3 }\n`;
}

describe('the layout', () => {
  test.each([2, 5, 20, 60])(
    'of %i spots lays no spot over another, and all on the page',
    (spots) => {
      const map = mapOf(ringsOf(spots));
      const placed = placeMap(map);
      const boxes = placed.spots.map(({ x, y, width, height }) => ({
        left: x - width / 2,
        right: x + width / 2,
        top: y - height / 2,
        bottom: y + height / 2,
      }));
      boxes.forEach((a, i) => {
        expect(a.left).toBeGreaterThanOrEqual(0);
        expect(a.right).toBeLessThanOrEqual(placed.width);
        expect(a.top).toBeGreaterThanOrEqual(0);
        expect(a.bottom).toBeLessThanOrEqual(placed.height);
        for (const b of boxes.slice(i + 1)) {
          const apart = a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top; // prettier-ignore
          expect(apart).toBe(true);
        }
      });
    },
  );

  test('ends each line at its spots, whichever way it was laid', () => {
    const placed = placeMap(mapOf(ringsOf(20)));
    const box = new Map(placed.spots.map((each) => [each.spot.id, each]));
    for (const { move, points } of placed.moves) {
      const touches = (id: number, point: { x: number; y: number } | undefined): boolean => {
        const at = box.get(id);
        if (at === undefined || point === undefined) return false;
        return Math.abs(point.x - at.x) <= at.width / 2 + 1 && Math.abs(point.y - at.y) <= at.height / 2 + 1; // prettier-ignore
      };
      expect(touches(move.from, points[0])).toBe(true);
      expect(touches(move.to, points[points.length - 1])).toBe(true);
    }
  });

  test('is not longer than a screen or two where everything is near', () => {
    const { width, height } = placeMap(mapOf(ringsOf(60)));
    expect(Math.max(width / height, height / width)).toBeLessThan(4);
  });

  test('is the same each time', () => {
    expect(mapSvg(mapOf(ringsOf(20)))).toBe(mapSvg(mapOf(ringsOf(20))));
  });
});
