import { formWanted } from './name-form.js';
import type { RenameConflict } from './rename.js';

/** A conflict in a sentence or two, as it is shown before anything is done. */
export function describeConflict({ reason, kind, name, places }: RenameConflict): string {
  const shown = kind === 'spot' ? `@${name}` : name;
  const [what, thing] = NOUNS[kind];
  const count = places.length === 1 ? 'one place' : `${places.length} places`;
  switch (reason) {
    case 'malformed':
      return `"${name}" cannot be the name of ${what}: it must be ${formWanted(kind)}.`;
    case 'reserved':
      return `${shown} is a word of the notation, or reads like one here: no ${thing} can have it as its name.`;
    case 'taken':
      return `There is ${what} ${shown} already: the two would become one.`;
    case 'given-twice':
      return `${shown} is declared in ${places.length} places that are seen together: all of them are renamed.`;
    case 'unread':
      return `${shown} also stands in ${count} where the text cannot be read: it is left as it is there.`;
  }
}

const NOUNS: Readonly<Record<RenameConflict['kind'], readonly [string, string]>> = {
  phrase: ['a phrase', 'phrase'],
  route: ['a route', 'route'],
  spot: ['a spot', 'spot'],
  ground: ['a ground', 'ground'],
  hands: ['hands', 'hands'],
  input: ['an input', 'input'],
  choice: ['a choice', 'choice'],
  way: ['a way', 'way'],
  axis: ['an axis', 'axis'],
  button: ['a button', 'button'],
};
