import { type Analysis, analysisOf } from '@core/ide/analysis.js';
import { codeActions } from '@core/ide/code-actions.js';
import { completion } from '@core/ide/completion.js';
import { formatFile } from '@core/ide/format.js';
import { hover } from '@core/ide/hover.js';
import { inlayHints } from '@core/ide/inlay-hints.js';
import { signature } from '@core/ide/signature.js';
import { tokensOf } from '@core/ide/tokens.js';
import { programOf } from '@core/model/program.js';
import type { Scope } from '@core/model/scope.js';
import { adoptKnown, knownOf } from '@core/positions/context.js';
import { parse, reparse } from '@core/syntax/parse.js';
import type { RouteDeclaration, Tree } from '@core/syntax/tree.js';
import { cleanNote } from './clean-note.js';
import { note, random } from './notes.js';
import type { Bench, Row } from './rows.js';
import { interleaved } from './timing.js';

/** What an editor waits for at most, at the 95th percentile of keystrokes, in milliseconds. */
const WAIT = 16;
const KEYSTROKES = 400;

const PATH = 'note.tiptoe';

/** A note of so many lines, with a log, routes and phrases in it. */
function linesOf(make: (size: number) => string, lines: number): string {
  let size = lines * 30;
  let text = make(size);
  for (let have = text.split('\n').length; have < lines; have = text.split('\n').length) {
    size = Math.ceil((size * lines) / have) + 1000;
    text = make(size);
  }
  return text.split('\n').slice(0, lines).join('\n');
}

type Ask = (analysis: Analysis, offset: number) => unknown;

const ASKS: readonly (readonly [name: string, ask: Ask])[] = [
  ['completion', (analysis, offset) => completion(analysis, PATH, offset)],
  ['hover', (analysis, offset) => hover(analysis, PATH, offset)],
  ['signature', (analysis, offset) => signature(analysis, PATH, offset)],
  ['inlay hints of a screen', (analysis, offset) => inlayHints(analysis, PATH, offset, offset + 3000)], // prettier-ignore
  ['refactorings', (analysis, offset) => codeActions(analysis, PATH, offset, offset, new Set(['extract', 'inline', 'rewrite']))], // prettier-ignore
];

/**
 * Features of an editor in a note of 10,000 lines, each asked right after a keystroke inside a
 * route: what names mean is worked out anew for it, while the log, which did not change, stays.
 */
export const bench: Bench = {
  name: 'ide',
  run(): Promise<Row[]> {
    const rows: Row[] = [];
    const texts = [
      ['a clean note', linesOf((size) => cleanNote(size), 10_000)],
      ['a note with everything in it', linesOf((size) => note(size), 10_000)],
    ] as const;
    for (const [what, text] of texts) {
      for (const [name, ask] of ASKS) rows.push(latency(name, ask, what, text));
      rows.push(deltas(what, text), formatting(what, text));
    }
    return Promise.resolve(rows);
  },
};

function latency(name: string, ask: Ask, what: string, text: string): Row {
  const next = random(11);
  const times: number[] = [];
  let tree = parse(text);
  let { scope } = viewOf(tree);
  knownOf(scope);
  for (let i = 0; i < KEYSTROKES + 40; i++) {
    const routes = tree.units.filter(({ unit }) => unit.declaration.kind === 'route');
    const route = routes[Math.floor(next() * routes.length)];
    if (route === undefined) throw new Error('the note has no routes');
    const { body } = route.unit.declaration as RouteDeclaration;
    const item = body[Math.floor(next() * body.length)];
    const offset = route.start + (item?.end ?? 1);
    tree = reparse(tree, { span: { start: offset, end: offset }, text: ' U' });
    const before = scope;
    const view = viewOf(tree);
    ({ scope } = view);
    adoptKnown(scope, before);
    const begin = process.cpuUsage();
    ask(view.analysis, offset + 1);
    if (i >= 40) times.push(spent(begin));
  }
  times.sort((a, b) => a - b);
  const at = (share: number) => times[Math.floor(times.length * share)] ?? NaN;
  return {
    what: `${name} after a keystroke, p95 / ${WAIT} ms, ${what}`,
    measured: at(0.95) / WAIT,
    target: { atMost: 1 },
    figures: `p50 ${at(0.5).toFixed(2)} ms, p95 ${at(0.95).toFixed(2)} ms, most ${at(0.999).toFixed(2)} ms`, // prettier-ignore
  };
}

/** Milliseconds of processor time: the clock on the wall would count what other processes do. */
function spent(begin: NodeJS.CpuUsage): number {
  const { user, system } = process.cpuUsage(begin);
  return (user + system) / 1000;
}

function viewOf(tree: Tree): { analysis: Analysis; scope: Scope } {
  const program = programOf('', PATH);
  const file = { path: PATH, tree, uses: [], problems: [] };
  const analysis = analysisOf({ ...program, files: new Map([[PATH, file]]) });
  return { analysis, scope: analysis.scope(file) };
}

/** The tokens of the units that a keystroke changed: the others have theirs. */
function deltas(what: string, text: string): Row {
  const next = random(12);
  const times: number[] = [];
  let tree = parse(text);
  for (const { unit } of tree.units) tokensOf(unit);
  for (let i = 0; i < KEYSTROKES; i++) {
    const offset = Math.floor(next() * tree.text.length);
    tree = reparse(tree, { span: { start: offset, end: offset }, text: 'U' });
    const begin = process.cpuUsage();
    for (const { unit } of tree.units) tokensOf(unit);
    times.push(spent(begin));
  }
  times.sort((a, b) => a - b);
  const p95 = times[Math.floor(times.length * 0.95)] ?? NaN;
  return {
    what: `tokens after a keystroke, p95 / 10 ms, ${what}`,
    measured: p95 / 10,
    target: { atMost: 1 },
    figures: `p95 ${p95.toFixed(2)} ms`,
  };
}

function formatting(what: string, text: string): Row {
  const analysis = analysisOf(programOf(text, PATH));
  const times = interleaved(
    [
      { name: 'parse', run: () => parse(text) },
      { name: 'format', run: () => formatFile(analysis, PATH) },
    ],
    { rounds: 11 },
  );
  const [parsing, laying] = [times.get('parse') ?? NaN, times.get('format') ?? NaN];
  return {
    what: `format / parse, ${what}`,
    measured: laying / parsing,
    target: { atMost: 3 },
    figures: `${laying.toFixed(1)} ms / ${parsing.toFixed(1)} ms`,
  };
}
