import type { Input, Game } from '../../model/game.js';
import type { Scope } from '../../model/scope.js';
import { Resolver } from '../../model/resolve.js';
import { buildTimeline } from '../../timeline/build.js';
import { docsOf } from '../docs.js';
import { expansionOf } from '../expansion.js';
import type { Point } from '../items-at.js';
import { movesFrom, movesTo } from '../moves.js';
import { type Occurrence, occurrencesOf } from '../occurrences.js';
import { routeFacts } from '../route-facts.js';
import { code, fenced, lengthWords, many, oneLine, plainly, seconds, spotWords } from '../words.js';
import type { UnitHover } from './types.js';

/** Rows of the log that are shown of a spot. */
const ROWS = 8;

/** A name: a spot, a phrase, a route, an input where the game declares it, a ground, a choice. */
export function nameHover(point: Point): UnitHover {
  const { unit, at, scope } = point;
  const found = occurrencesOf(unit).find(({ start, end }) => start <= at && at <= end);
  if (found === undefined) return undefined;
  const text = aboutName(found, scope, unit.declaration.kind === 'game');
  if (text === undefined) return undefined;
  const start = found.kind === 'spot' ? found.start - 1 : found.start;
  return { span: { start, end: found.end }, text };
}

function aboutName(
  { kind, name, declares }: Occurrence,
  scope: Scope,
  inGame: boolean,
): string | undefined {
  switch (kind) {
    case 'spot':
      return aboutSpot(name, scope);
    case 'route':
      return aboutRoute(name, scope);
    case 'phrase':
      return declares ? aboutPhrase(name, scope) : undefined;
    case 'input': {
      if (!inGame) return undefined;
      return aboutLetter(name, scope.game);
    }
    case 'axis':
    case 'button': {
      const same = scope.game.inputs.filter((each) => (each.axis ?? each.button) === name);
      if (same.length === 0) return undefined;
      return [`${code(name)}: ${kind === 'axis' ? 'an axis' : 'a button'}`, same.map((each) => `- ${inputWords(each)}`).join('\n')].join('\n\n'); // prettier-ignore
    }
    case 'ground': {
      const ground = scope.grounds.get(name);
      if (ground === undefined) return undefined;
      const { declaration, unit } = ground;
      const moves = many(declaration.moves.length, 'move');
      const head = oneLine(unit.text.slice(declaration.start, declaration.end).split('{')[0] ?? '');
      return joined(fenced(head), docsOf(unit), `Open ground with ${moves}.`);
    }
    case 'choice':
      return `${code(`choose ${name}`)}\n\nThe player picks one of several ways; the first is taken unless another is asked for.`;
    case 'hands':
    case 'way':
      return undefined;
  }
}

/** A spot: what it looks like, and what the log knows of it. */
export function aboutSpot(name: string, scope: Scope): string | undefined {
  const declared = scope.spots.get(name);
  const from = movesFrom(scope, name);
  const to = movesTo(scope, name);
  if (declared === undefined && from.length === 0 && to.length === 0) return undefined;
  const parts: string[] = [];
  if (declared === undefined) parts.push(code(`@${name}`), 'Known from the log only.');
  else {
    const { declaration, unit } = declared;
    parts.push(
      fenced(oneLine(unit.text.slice(declaration.start, declaration.end), 200)),
      docsOf(unit),
    );
  }
  const rows = from.slice(0, ROWS).map(({ items, landings, sightings }) => {
    const ends = landings.map((each) => `${spotWords([each.to])} x${each.sightings}`).join(', ');
    return landings.length > 1
      ? `- ${code(oneLine(items))} → ${ends}, of ${many(sightings, 'sighting')}`
      : `- ${code(oneLine(items))} → ${ends}`;
  });
  if (from.length > ROWS) rows.push(`- and ${many(from.length - ROWS, 'more row')}`);
  if (rows.length > 0) parts.push(`From here:\n\n${rows.join('\n')}`);
  const ways = to
    .slice(0, ROWS)
    .map((each) => `- ${spotWords([each.from])} ${code(oneLine(each.items))} x${each.sightings}`);
  if (to.length > ROWS) ways.push(`- and ${many(to.length - ROWS, 'more row')}`);
  if (ways.length > 0) parts.push(`To here:\n\n${ways.join('\n')}`);
  if (rows.length === 0 && ways.length === 0) parts.push('The log has no row of it.');
  return joined(...parts);
}

/** A phrase: as it is written, written out, and how long it is by itself. */
export function aboutPhrase(name: string, scope: Scope): string | undefined {
  const phrase = scope.phrases.get(name);
  if (phrase === undefined) return undefined;
  const { declaration, unit } = phrase;
  const written = unit.text.slice(declaration.start, declaration.end);
  const expansion = expansionOf(phrase, scope);
  const body = written
    .slice(written.indexOf('=') + 1)
    .replace(/\s+/g, ' ')
    .trim();
  const sequence = new Resolver(scope).resolve(declaration.body, unit);
  const timeline = buildTimeline(sequence, scope.game);
  return joined(
    fenced(oneLine(written, 400)),
    docsOf(unit),
    expansion === body || !expansion.includes('(') ? '' : `Written out: ${code(expansion)}`,
    'tooLong' in timeline
      ? 'Longer than can be counted.'
      : `By itself ${lengthWords(timeline.ticks, timeline.frames, scope.game)}.`,
  );
}

/** A route: its head, its docs and its length. */
export function aboutRoute(name: string, scope: Scope): string | undefined {
  const route = scope.routes.get(name);
  if (route === undefined) return undefined;
  const { declaration, unit } = route;
  const end =
    declaration.to?.end ?? declaration.title?.end ?? declaration.name?.end ?? declaration.end;
  const { timeline } = routeFacts(scope, unit, declaration);
  return joined(
    fenced(oneLine(unit.text.slice(declaration.start, Math.max(end, headEnd(declaration))), 200)),
    docsOf(unit),
    'tooLong' in timeline
      ? 'Longer than can be counted.'
      : `${many(timeline.ticks, 'tick')}, ${many(timeline.frames, 'frame')}, ${seconds(timeline.ticks, scope.game)}.`,
  );
}

function headEnd({
  from,
}: {
  from: 'anywhere' | readonly { readonly end: number }[] | undefined;
}): number {
  return from === undefined || from === 'anywhere' ? 0 : (from[from.length - 1]?.end ?? 0);
}

/** A letter: what it holds. */
export function aboutLetter(letter: string, game: Game): string | undefined {
  const input = game.byLetter.get(letter);
  if (input !== undefined) return inputWords(input);
  const { pause } = game;
  if (pause?.letter !== letter) return undefined;
  return `${code(letter)}: the pause input. Its menu takes no press for ${many(pause.open, 'tick')}, the player waits ${many(pause.dwell, 'tick')} in it, and frames run again ${many(pause.resume, 'tick')} after the unpausing press.`;
}

/** `D` = y +1, half tilt. */
export function inputWords({ letter, axis, value, button, note }: Input): string {
  const what =
    axis === undefined
      ? `the button ${plainly(button ?? '?')}`
      : `${plainly(axis)} at ${plainly(value)}`;
  return `${code(letter)}: ${what}${note === '' ? '' : `, ${plainly(note)}`}`;
}

function joined(...parts: string[]): string {
  return parts.filter((part) => part !== '').join('\n\n');
}
