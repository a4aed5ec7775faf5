// Makes the pictures of the README from what the commands print now:
//   pictures/demo.svg   a note checked, followed and turned into a table
//   pictures/map.svg    the log of the examples with the course of a route
// `npm run pictures` writes them (after `npm run bundle`); a test fails when one is stale.
import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath, pathToFileURL } from 'node:url';

const root = fileURLToPath(new URL('../../..', import.meta.url));
const command = fileURLToPath(new URL('../bin/tiptoe.cjs', import.meta.url));
const at = (name) => fileURLToPath(new URL(`../pictures/${name}`, import.meta.url));

function tiptoe(args, colour) {
  const env = { ...process.env, FORCE_COLOR: colour ? '1' : '0' };
  const { stdout } = spawnSync(process.execPath, [command, ...args], { cwd: root, env });
  return stdout.toString();
}

const SHOWN = [
  ['check', 'examples/faulty/short.tiptoe'],
  ['trace', 'examples/saltmarsh/barrier.tiptoe'],
  ['frames', 'examples/saltmarsh/barrier.tiptoe', '--from', '30', '--to', '94'],
];

export const PICTURES = {
  'demo.svg': () =>
    screen(
      SHOWN.map((args) => `\u001b[1m$ tiptoe ${args.join(' ')}\u001b[22m\n${tiptoe(args, true)}`),
    ),
  'map.svg': () => tiptoe(['map', 'examples/saltmarsh/barrier.tiptoe'], false),
};

const LETTER = 7.25;
const LINE = 16.5;

/** Text with colour codes as a drawing of a page, not of anybody's terminal. */
function screen(blocks) {
  const lines = blocks.join('\n').trimEnd().split('\n');
  const columns = Math.max(...lines.map((line) => plain(line).length));
  const width = Math.ceil(columns * LETTER + 40);
  const height = Math.ceil(lines.length * LINE + 36);
  const rows = lines.map((line, i) => {
    const y = (28 + i * LINE).toFixed(1);
    return `<text x="20" y="${y}" xml:space="preserve">${spans(line)}</text>`;
  });
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-labelledby="demo-title">`,
    '<title id="demo-title">What the commands print</title>',
    '<style>svg{--ink:#1b2733;--paper:#fbfaf7;--dim:#66727d;--red:#a8201a;--yellow:#7a5400;--cyan:#0b5d8f;--green:#20622f}' +
      '@media (prefers-color-scheme:dark){svg{--ink:#e8edf2;--paper:#161b21;--dim:#94a3b1;--red:#ff8f87;--yellow:#ecc26a;--cyan:#7cc4ee;--green:#8fd39d}}' +
      '.paper{fill:var(--paper)}text{font-family:ui-monospace,Menlo,Consolas,monospace;font-size:12px;fill:var(--ink);white-space:pre}' +
      '.b{font-weight:700}.d{fill:var(--dim)}.r{fill:var(--red)}.y{fill:var(--yellow)}.c{fill:var(--cyan)}.g{fill:var(--green)}</style>',
    `<rect class="paper" width="${width}" height="${height}"/>`,
    ...rows,
    '</svg>',
    '',
  ].join('\n');
}

const ESCAPE = String.fromCharCode(27);
const CODES = new RegExp(`${ESCAPE}\\[(\\d+)m`, 'g');
const ON = { 1: 'b', 2: 'd', 31: 'r', 32: 'g', 33: 'y', 34: 'c', 35: 'c', 36: 'c', 4: 'b' };
const OFF = {
  22: ['b', 'd'],
  39: ['r', 'g', 'y', 'c'],
  24: ['b'],
  0: ['b', 'd', 'r', 'g', 'y', 'c'],
};

function plain(line) {
  return line.replace(CODES, '');
}

function spans(line) {
  const classes = new Set();
  let out = '';
  let from = 0;
  const put = (text) => {
    if (text === '') return;
    const kind = [...classes].sort().join(' ');
    out += kind === '' ? escaped(text) : `<tspan class="${kind}">${escaped(text)}</tspan>`;
  };
  for (const match of line.matchAll(CODES)) {
    put(line.slice(from, match.index));
    from = match.index + match[0].length;
    if (ON[match[1]]) classes.add(ON[match[1]]);
    for (const each of OFF[match[1]] ?? []) classes.delete(each);
  }
  put(line.slice(from));
  return out;
}

function escaped(text) {
  return text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;');
}

/** The picture as it is kept. */
export function kept(name) {
  try {
    return readFileSync(at(name), 'utf8');
  } catch {
    return '';
  }
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  for (const [name, draw] of Object.entries(PICTURES)) writeFileSync(at(name), draw());
}
