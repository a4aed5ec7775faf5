import { bodiesOf } from '../rules/bodies.js';
import { Resolver } from '../model/resolve.js';
import type { Step } from '../model/steps.js';
import type { Item } from '../syntax/tree.js';
import type { Analysis } from './analysis.js';
import { countFrom, type Point, pointIn } from './items-at.js';
import { measure, type Measured, stepsInside } from './measure.js';
import { routeFacts } from './route-facts.js';
import { many, milliseconds, spotWords } from './words.js';

export type HintKind = 'spots' | 'pace' | 'frames';

/** A few words between the letters of the text, at an offset of the file. */
export interface InlayHint {
  readonly kind: HintKind;
  readonly offset: number;
  readonly label: string;
  readonly tooltip: string;
}

export const HINT_KINDS: readonly HintKind[] = ['spots', 'pace', 'frames'];

/** Items of one declaration that get hints; a longer one is nobody's to read. */
const MOST = 5000;

/**
 * Inlay hints of a stretch of a file: the spots behind each item of a route, the pace between
 * two items, and how many frames have run. Each kind can be left out.
 */
export function inlayHints(
  analysis: Analysis,
  path: string,
  from: number,
  to: number,
  kinds: ReadonlySet<HintKind> = new Set(HINT_KINDS),
): readonly InlayHint[] {
  const file = analysis.file(path);
  if (file === undefined) return [];
  const hints: InlayHint[] = [];
  const { units } = file.tree;
  for (let i = Math.max(0, countFrom(units, from) - 1); i < units.length; i++) {
    const placed = units[i];
    if (placed === undefined || placed.start > to) break;
    const point = pointIn(analysis, file, placed, from);
    const put: Put = (kind, at, label, tooltip) => {
      const offset = at + placed.start;
      if (kinds.has(kind) && offset >= from && offset <= to) {
        hints.push({ kind, offset, label, tooltip });
      }
    };
    hintsOf(point, { from: from - placed.start, to: to - placed.start }, kinds, put);
  }
  return hints.sort((a, b) => a.offset - b.offset || HINT_KINDS.indexOf(a.kind) - HINT_KINDS.indexOf(b.kind)); // prettier-ignore
}

type Put = (kind: HintKind, at: number, label: string, tooltip: string) => void;

function hintsOf(point: Point, range: Range, kinds: ReadonlySet<HintKind>, put: Put): void {
  const { unit, scope } = point;
  const { declaration } = unit;
  if (declaration.kind === 'route') {
    const facts = routeFacts(scope, unit, declaration);
    if (kinds.has('pace') || kinds.has('frames')) {
      pacesAndFrames(facts.measured, facts.nominal.sequence.steps, true, point, range, put);
    }
    if (kinds.has('spots')) spots(point, put);
    return;
  }
  if (!kinds.has('pace')) return;
  if (declaration.kind !== 'let' && declaration.kind !== 'rescue') return;
  for (const body of bodiesOf(declaration)) {
    const { steps } = new Resolver(scope).resolve(body, unit);
    pacesAndFrames(measure(steps, scope.game), steps, false, point, range, put);
  }
}

interface Range {
  readonly from: number;
  readonly to: number;
}

function pacesAndFrames(
  measured: readonly Measured[] | undefined,
  steps: readonly Step[],
  counts: boolean,
  point: Point,
  range: Range,
  put: Put,
): void {
  const { game } = point.scope;
  const list = (measured ?? []).slice(0, MOST);
  list.forEach(({ item, gap, to }, i) => {
    if (item.start > range.to || item.end < range.from) return;
    const pace = gap?.step.kind === 'settle' ? '~' : '.';
    if (gap !== undefined && gap.frames > 0) {
      const why = pace === '~' ? 'until the movement has settled' : 'the pace';
      put('pace', item.start, `${pace}${gap.frames}`, `${many(gap.frames, 'neutral frame')}, ${milliseconds(gap.frames, game)}: ${why}`); // prettier-ignore
    }
    const joined = list[i + 1];
    if (counts && (joined === undefined || joined.item.join < 0)) {
      put('frames', item.end, `f${to.frames}`, `${many(to.frames, 'frame')} and ${many(to.ticks, 'tick')} have run, ${milliseconds(to.ticks, game)}`); // prettier-ignore
    }
    if (!holdsItems(item)) return;
    const inside = stepsInside(steps, item);
    if (inside === undefined) return;
    pacesAndFrames(measure(inside, game), inside, false, point, range, put);
  });
}

/** A phrase holds items too, but in a text of its own. */
function holdsItems({ kind }: Item): boolean {
  return kind === 'group' || kind === 'hold' || kind === 'choose';
}

function spots({ scope, unit }: Point, put: Put): void {
  if (unit.declaration.kind !== 'route') return;
  const { trace } = routeFacts(scope, unit, unit.declaration);
  for (const { items, spots: names, unknown, within, proofs } of trace.steps.slice(0, MOST)) {
    const last = items[items.length - 1];
    if (last === undefined || within) continue;
    const claim = last.marks.find(({ kind }) => kind === 'claim');
    // A claim that says the same needs no second voice.
    if (claim?.kind === 'claim' && names.length === 1 && names[0] === claim.name && !unknown)
      continue;
    const sightings = proofs.reduce((sum, proof) => sum + proof.sightings, 0);
    const label = names.length === 0 ? '@?' : names.slice(0, 2).map((name) => spotWords([name])).join(' ') + (names.length > 2 ? ` +${names.length - 2}` : '') + (unknown ? ' @?' : ''); // prettier-ignore
    const proof = sightings === 0 ? '' : `, on ${many(sightings, 'sighting')}`;
    put(
      'spots',
      last.end,
      label,
      `At ${spotWords(names, unknown || names.length === 0, 20)}${proof}`,
    );
  }
}
