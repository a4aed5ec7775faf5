import type { Game } from '../../model/game.js';
import * as T from '../../syntax/tokens.js';
import { knownOf } from '../../positions/context.js';
import { bodyAt, levelsAt, type Level, type Point } from '../items-at.js';
import { movesFrom } from '../moves.js';
import { spotsAt, type SpotsHere } from '../spots-at.js';
import { milliseconds, oneLine, spotWords } from '../words.js';
import type { Offer } from './types.js';
import type { Typed } from './typed.js';
import { offerSpots } from './spots.js';

/**
 * What can stand in a sequence. Where it is known at which spots the character stands, the moves
 * logged from there come first, with their landings; then the inputs, the phrases, the forms.
 */
export function offerItems(point: Point, typed: Typed, offer: Offer): void {
  const { unit, scope } = point;
  const { tokens, start, word } = typed;
  const before = tokens[tokens.length - 1];
  if (before?.tokenType === T.Until) {
    offerSpots(point, { spots: [], unknown: true }, offer);
    return;
  }
  if (before?.tokenType === T.Pace) {
    offerWaits(scope.game, offer);
    return;
  }
  if (before?.tokenType === T.Choose) return;
  const body = bodyAt(unit.declaration, start);
  const levels = body === undefined ? [] : levelsAt(body.items, start);
  const context = contextOf(typed, levels);
  const joined = before?.tokenType === T.Join;
  const here: SpotsHere =
    body === undefined || joined || context !== 'run'
      ? { spots: [], unknown: true }
      : spotsAt(point, body, levels, start);
  if (word.startsWith('@')) {
    offerSpots(point, here, offer);
    return;
  }
  offerMoves(point, here, offer);
  if (tokens.length > 0 && !joined && context === 'run') offerClaims(here, offer);
  offerInputs(scope.game, word, offer);
  for (const [name, { declaration, unit: of }] of scope.phrases) {
    if (declaration === unit.declaration) continue;
    const last = declaration.body[declaration.body.length - 1];
    const detail = oneLine(of.text.slice(declaration.body[0]?.start, last?.end), 40);
    offer({ label: name, kind: 'phrase', rank: 3, detail });
  }
  offerForms(scope.game, context, joined, before?.image.endsWith('+') === true, offer);
}

type Context = 'run' | 'hold' | 'pause';

/** The tree knows it unless a bracket is still open at the end of the text. */
function contextOf({ open, tokens }: Typed, levels: readonly Level[]): Context {
  const inPause = open.some((i) => tokens[i]?.tokenType === T.LeftSquare);
  if (inPause) return 'pause';
  return levels[levels.length - 1]?.context ?? 'run';
}

function offerMoves({ scope }: Point, { spots }: SpotsHere, offer: Offer): void {
  const { log, grounds } = knownOf(scope);
  const seen = new Set<string>();
  spots.slice(0, 50).forEach((spot, nth) => {
    const from = spots.length > 1 ? `${spotWords([spot])} ` : '';
    movesFrom(scope, spot).forEach(({ items, landings }, i) => {
      if (seen.has(items)) return;
      seen.add(items);
      const ends = landings.slice(0, 3).map((each) => `${spotWords([each.to])} x${each.sightings}`);
      if (landings.length > 3) ends.push(`${landings.length - 3} more`);
      const detail = `${from}→ ${ends.join(', ')}`;
      offer({ label: items, kind: 'move', rank: nth / 1000 + i / 1e6, detail });
    });
    const place = log.find(spot);
    const ground = place === undefined ? undefined : grounds.ground(place);
    for (const { written } of ground?.moves ?? []) {
      if (seen.has(written)) continue;
      seen.add(written);
      offer({ label: written, kind: 'move', rank: 0.5, detail: `on ${ground?.name ?? ''}` });
    }
  });
}

function offerClaims({ spots, unknown }: SpotsHere, offer: Offer): void {
  spots.slice(0, 20).forEach((spot, i) => {
    if (spot.startsWith('(')) return;
    const detail = spots.length > 1 || unknown ? 'one of the spots by the log' : 'by the log';
    offer({ label: `@${spot}`, kind: 'spot', rank: 1 + i / 100, detail, name: spot });
  });
}

/** Letters, or more letters for a press that has begun. */
function offerInputs({ inputs }: Game, word: string, offer: Offer): void {
  const begun = /^[A-Z]+$/.test(word) ? word : '';
  const axes = inputs.filter(({ letter }) => begun.includes(letter)).map(({ axis }) => axis);
  for (const { letter, axis, value, button, note, index } of inputs) {
    if (begun.includes(letter) || (axis !== undefined && axes.includes(axis))) continue;
    const what = axis === undefined ? (button ?? '') : `${axis} ${value}`;
    const detail = note === '' ? what : `${what}, ${note}`;
    offer({ label: begun + letter, kind: 'input', rank: 2 + index / 100, detail, name: letter });
  }
}

function offerForms(
  game: Game,
  context: Context,
  joined: boolean,
  open: boolean,
  offer: Offer,
): void {
  const form = (label: string, insert: string, detail: string, rank = 4): void => {
    offer({ label, kind: 'form', rank, insert, detail, snippet: true });
  };
  if (open) form('until @spot', 'until @${1:spot}', 'until the player stands there', 1.5);
  const letter = game.inputs[0]?.letter ?? 'D';
  if (context === 'pause') {
    form('.1', '.${1:1}', 'a window that holds nothing');
    return;
  }
  if (game.pause !== undefined && context === 'run') {
    form('[…]', `[\${1:${letter}1}]`, 'a pause, each item a window');
  }
  form('X&(…)', `\${1:${letter}}&(\${2:.4 ${letter}})`, 'hold through a group');
  if (joined) return;
  form('(…)*n', `(\${1:${letter}})*\${2:2}`, 'repeat a group');
  form('X*n+ until @spot', `\${1:${letter}}*\${2:2}+ until @\${3:spot}`, 'repeat until at a spot');
  form(
    'choose',
    'choose ${1:name} {\n\t${2:one} { ${3} }\n\t${4:other} { ${5} }\n}',
    'let the player pick a way',
    5,
  );
  form('pace', 'pace ${1:.2}', 'what a space means from here on', 5);
  if (context === 'run') offerWaits(game, offer);
  form('"…"', '"${1:note}"', 'a note for the player', 5);
}

function offerWaits(game: Game, offer: Offer): void {
  if (game.settle !== undefined) {
    const detail = `wait until settled, up to ${milliseconds(game.settle, game)}`;
    offer({ label: '~', kind: 'value', rank: 4, detail });
  }
  offer({ label: '.n', kind: 'form', rank: 4, insert: '.${1:12}', snippet: true, detail: 'wait' });
}
