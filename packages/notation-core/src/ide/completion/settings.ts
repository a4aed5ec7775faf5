import * as T from '../../syntax/tokens.js';
import type { ScannedToken } from '../../syntax/scanner.js';
import type { Point } from '../items-at.js';
import { SETTINGS, type SettingPlace } from '../settings-words.js';
import type { Offer } from './types.js';
import type { Typed } from './typed.js';

/** The settings of a game, of its pause and of hands, and the lines of its inputs. */
export function offerSettings(point: Point, { tokens, open }: Typed, offer: Offer): void {
  const inner = open[open.length - 1] ?? 0;
  const last = tokens[tokens.length - 1];
  const here = tokens.slice(inner + 1).filter((_, i) => depthAt(tokens, inner + 1, i) === 0);
  if (tokens[0]?.tokenType === T.Hands) {
    if (last?.image === 'shape') values(['normal', 'lognormal'], offer);
    else if (last?.image === 'spread') values(['press', 'pause'], offer);
    settings('hands', here, offer);
    return;
  }
  const [before, key] = [tokens[inner - 1], tokens[inner - 2]];
  if (before?.image === 'inputs') inputLine(point, last, offer);
  else if (key?.image === 'pause' || before?.image === 'pause') settings('pause', here, offer);
  else if (last?.tokenType === T.Pace) values(['~', '.2'], offer);
  else settings('game', here, offer);
}

/** How many brackets are open in front of the n-th token behind `from`. */
function depthAt(tokens: readonly ScannedToken[], from: number, n: number): number {
  let depth = 0;
  for (let i = from; i < from + n; i++) {
    if (tokens[i]?.tokenType === T.LeftBrace) depth++;
    else if (tokens[i]?.tokenType === T.RightBrace) depth--;
  }
  return depth;
}

/** Those that are not there yet; cues can be given again and again. */
function settings(place: SettingPlace, here: readonly ScannedToken[], offer: Offer): void {
  const taken = new Set(here.map(({ image }) => image));
  SETTINGS[place].forEach(({ key, what, snippet }, i) => {
    if (taken.has(key) && key !== 'cue') return;
    offer({
      label: key,
      kind: 'setting',
      rank: i / 100,
      detail: what,
      insert: snippet,
      snippet: true,
    });
  });
}

function values(words: readonly string[], offer: Offer): void {
  words.forEach((word, i) => {
    offer({ label: word, kind: 'value', rank: -1 + i / 100 });
  });
}

function inputLine({ scope }: Point, last: ScannedToken | undefined, offer: Offer): void {
  const { inputs } = scope.game;
  const axes = new Set([...inputs.flatMap(({ axis }) => axis ?? []), 'x', 'y']);
  if (last?.tokenType === T.Equals) {
    for (const axis of axes) offer({ label: axis, kind: 'value', rank: 0, detail: 'an axis' });
    return;
  }
  if (last !== undefined && axes.has(last.image)) {
    values(['+1', '-1'], offer);
    return;
  }
  const form = (label: string, insert: string, detail: string): void => {
    offer({ label, kind: 'form', rank: 0, insert, detail, snippet: true });
  };
  form('axis', '${1:D} = ${2:y} ${3:+1}', 'a value on an axis');
  form('button', '${1:J} = ${2:jump}', 'a button');
}
