import { Scanner } from '../syntax/scanner.js';
import { Spot, Word } from '../syntax/tokens.js';
import type { NameKind } from './occurrences.js';

/** Whether a text can be a name: `reserved` where it reads as a word of the notation. */
export type NameForm = 'fine' | 'reserved' | 'malformed';

/** What a text is as the name of something of a kind; read by the scanner that reads notes. */
export function formOf(kind: NameKind, name: string): NameForm {
  if (kind === 'input') return /^[A-Z]$/.test(name) ? 'fine' : 'malformed';
  const written = kind === 'spot' ? `@${name}` : name;
  const scanner = new Scanner();
  scanner.begin(written, 0, written.length, undefined);
  const { tokenType, startOffset, end } = scanner;
  if (written === '' || startOffset !== 0 || end !== written.length) return 'malformed';
  if (tokenType === (kind === 'spot' ? Spot : Word)) return 'fine';
  return /^[a-z]+[0-9]*$/.test(written) ? 'reserved' : 'malformed';
}

/** How a name of a kind has to look, in words that go behind "must be". */
export function formWanted(kind: NameKind): string {
  switch (kind) {
    case 'input':
      return 'one capital letter from A to Z';
    case 'spot':
      return 'letters, digits and _ behind the @';
    default:
      return 'a small letter and then letters, digits and _';
  }
}
