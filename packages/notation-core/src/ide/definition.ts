import { filesInScope } from '../model/scope.js';
import type { SourceFile } from '../model/program.js';
import type { Placed } from '../syntax/tree.js';
import type { Span } from '../text/span.js';
import { type Analysis, type FileSpan, unitAt } from './analysis.js';
import { linkAt } from './links.js';
import { isLocal, type Mention, mentionAt, mentionsIn, mentionsOf, realmOf } from './names.js';

/** Where to go: the name, and the declaration or row around it. */
export interface Target extends FileSpan {
  readonly whole: Span;
}

/** Where the cursor is, and where that leads. */
export interface Targets {
  readonly origin: Span;
  readonly targets: readonly Target[];
}

/**
 * Where what the cursor is on is introduced: its declaration, the letter's line in the game in
 * force, the file of a `use`. A spot without a declaration is introduced by the first row of the
 * log that names it, or else by the route that it is the goal of.
 */
export function definition(analysis: Analysis, path: string, offset: number): Targets | undefined {
  const link = linkAt(analysis, path, offset);
  if (link?.target !== undefined) {
    const start = { start: 0, end: 0 };
    return { origin: link, targets: [{ path: link.target, ...start, whole: start }] };
  }
  return leadTo(analysis, path, offset, true);
}

/** The same, where only what declares it counts: a spot of the log alone has no declaration. */
export function declaration(analysis: Analysis, path: string, offset: number): Targets | undefined {
  return leadTo(analysis, path, offset, false);
}

function leadTo(
  analysis: Analysis,
  path: string,
  offset: number,
  rows: boolean,
): Targets | undefined {
  const mention = mentionAt(analysis, path, offset);
  const file = analysis.file(path);
  if (mention === undefined || file === undefined) return undefined;
  let found = introduced(analysis, file, mention);
  if (found.length === 0 && rows && mention.kind === 'spot') {
    const first = introduction(analysis, file, mentionsOf(analysis, mention));
    if (first !== undefined) found = [first];
  }
  if (found.length === 0) return undefined;
  const { start, end } = mention;
  return {
    origin: { start, end },
    targets: found.map((each) => ({
      path: each.path, start: each.start, end: each.end, whole: wholeOf(each),
    })),
  }; // prettier-ignore
}

/** The game that the letter under the cursor is an input of. */
export function typeDefinition(
  analysis: Analysis,
  path: string,
  offset: number,
): Targets | undefined {
  const mention = mentionAt(analysis, path, offset);
  if (mention?.kind !== 'input') return undefined;
  const to = leadTo(analysis, path, offset, false);
  const games = (to?.targets ?? []).flatMap((target): Target[] => {
    const file = analysis.file(target.path);
    const placed = file === undefined ? undefined : unitAt(file, target.start);
    const game = placed?.unit.declaration;
    if (placed === undefined || game?.kind !== 'game') return [];
    const name = game.title ?? { start: game.start, end: game.start + 'game'.length };
    const { start, end } = shift(name, placed);
    return [{ path: target.path, start, end, whole: shift(game, placed) }];
  });
  return games.length === 0
    ? undefined
    : { origin: { start: mention.start, end: mention.end }, targets: games };
}

/** The declarations in sight, of games the one in force; any that mean the same, where none is. */
function introduced(analysis: Analysis, file: SourceFile, mention: Mention): Mention[] {
  const { kind, name } = mention;
  if (isLocal(kind)) {
    const all = mentionsOf(analysis, mention);
    // What an axis or a button is called is said nowhere but on the lines of the inputs.
    return kind === 'axis' || kind === 'button' ? all.slice(0, 1) : all;
  }
  const near = filesInScope(analysis.program, file).flatMap((each) =>
    mentionsIn(each, kind, name, true),
  );
  if (kind === 'input' && near.length > 1) {
    const { unit } = analysis.scope(file).game;
    const own = near.filter(({ placed }) => placed.unit === unit);
    if (own.length > 0) return own;
  }
  if (near.length > 0) return near;
  return realmOf(analysis, mention).flatMap((each) => mentionsIn(each, kind, name, true));
}

/** The first row of the log in sight that names a spot, then of any log; then the first goal. */
function introduction(
  analysis: Analysis,
  file: SourceFile,
  mentions: readonly Mention[],
): Mention | undefined {
  const seen = filesInScope(analysis.program, file).map((each) => each.path);
  const near = (path: string) => (seen.includes(path) ? seen.indexOf(path) : seen.length);
  const sorted = [...mentions].sort((a, b) => near(a.path) - near(b.path));
  return (
    sorted.find(({ placed }) => placed.unit.declaration.kind === 'seen') ??
    sorted.find(({ start, placed }) => {
      const route = placed.unit.declaration;
      return route.kind === 'route' && route.to?.start === start - placed.start - 1;
    })
  );
}

/** The row, the line of an input, or the declaration that a name stands in. */
function wholeOf({ start, end, placed }: Mention): Span {
  const { declaration: around } = placed.unit;
  const lines: readonly Span[] =
    around.kind === 'seen'
      ? around.rows
      : around.kind === 'game'
        ? [...around.inputs, ...around.pauses]
        : [];
  const line = lines.find(
    (each) => placed.start + each.start <= start && end <= placed.start + each.end,
  );
  return shift(line ?? around, placed);
}

function shift({ start, end }: Span, placed: Placed): Span {
  return { start: placed.start + start, end: placed.start + end };
}
