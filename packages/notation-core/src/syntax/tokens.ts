import { createToken, EOF, Lexer, type TokenType } from 'chevrotain';

/**
 * The token types of the grammar. The scanner (`scanner.ts`) makes the tokens, since it is
 * several times as fast as a table of regular expressions; Chevrotain only matches types.
 */
function token(name: string, label: string, categories: TokenType[] = INSIDE): TokenType {
  return createToken({ name, label, pattern: Lexer.NA, categories });
}

/**
 * Categories, for what is stray: one alternative stands for every token that has no place
 * where it is found. Thirty alternatives would say the same and cost milliseconds at the start.
 */
const category = (name: string): TokenType => createToken({ name, pattern: Lexer.NA });
/** Every token. */
export const Any = category('Any');
/** Every token but the brace that ends a block. */
export const AnyInside = category('AnyInside');
/** Every token but the brace that begins a block. */
export const AnyBefore = category('AnyBefore');
const INSIDE = [Any, AnyInside, AnyBefore];

export const Press = token('Press', 'a press such as D or DR3');
export const Wait = token('Wait', 'a wait such as .12');
export const Settle = token('Settle', '~');
export const Join = token('Join', '-');
export const Repeat = token('Repeat', 'a repeat such as *8');
export const Arrow = token('Arrow', '->');
export const LeftParen = token('LeftParen', '(');
export const RightParen = token('RightParen', ')');
export const LeftSquare = token('LeftSquare', '[');
export const RightSquare = token('RightSquare', ']');
export const LeftBrace = token('LeftBrace', '{', [Any, AnyInside]);
export const RightBrace = token('RightBrace', '}', [Any, AnyBefore]);
export const Amp = token('Amp', '&');
export const Spot = token('Spot', 'a spot such as @reed');
export const Str = token('Str', 'a text in double quotes');
export const Word = token('Word', 'a name');
export const Quantity = token('Quantity', 'a number');
export const Sightings = token('Sightings', 'a count of sightings such as x22');
export const Colon = token('Colon', ':');
export const Comma = token('Comma', ',');
export const Equals = token('Equals', '=');
export const Slash = token('Slash', '/');
export const Plus = token('Plus', '+');
export const Bad = token('Bad', 'something else');

export const Use = token('Use', 'use');
export const Game = token('Game', 'game');
export const Hands = token('Hands', 'hands');
export const SpotWord = token('SpotWord', 'spot');
export const Let = token('Let', 'let');
export const Seen = token('Seen', 'seen');
export const Ground = token('Ground', 'ground');
export const Route = token('Route', 'route');
export const Rescue = token('Rescue', 'rescue');
export const Choose = token('Choose', 'choose');
export const Pace = token('Pace', 'pace');
export const Until = token('Until', 'until');
export const By = token('By', 'by');
export const From = token('From', 'from');
export const To = token('To', 'to');
export const In = token('In', 'in');
export const At = token('At', 'at');
export const Paused = token('Paused', 'paused');
export const Within = token('Within', 'within');
export const Anywhere = token('Anywhere', 'anywhere');

/** Words that begin a declaration; nothing else can be called so. */
export const DECLARATION_WORDS: ReadonlyMap<string, TokenType> = new Map([
  ['use', Use],
  ['game', Game],
  ['hands', Hands],
  ['spot', SpotWord],
  ['let', Let],
  ['seen', Seen],
  ['ground', Ground],
  ['route', Route],
  ['rescue', Rescue],
]);

/** Every reserved word. */
export const KEYWORDS: ReadonlyMap<string, TokenType> = new Map([
  ...DECLARATION_WORDS,
  ['choose', Choose],
  ['pace', Pace],
  ['until', Until],
  ['by', By],
  ['from', From],
  ['to', To],
  ['in', In],
  ['at', At],
  ['paused', Paused],
  ['within', Within],
  ['anywhere', Anywhere],
]);

const PLAIN: readonly TokenType[] = [
  Press, Wait, Settle, Join, Repeat, Arrow, LeftParen, RightParen, LeftSquare, RightSquare,
  LeftBrace, RightBrace, Amp, Spot, Str, Word, Quantity, Sightings, Colon, Comma, Equals, Slash,
  Plus, Bad,
]; // prettier-ignore

export const TOKEN_TYPES: TokenType[] = [...INSIDE, ...PLAIN, ...KEYWORDS.values()];

/** What the scanner hands to the parser: the fields that Chevrotain reads, and no copy of the text. */
export interface Token {
  readonly image: string;
  readonly startOffset: number;
  readonly endOffset: number;
  readonly tokenTypeIdx: number;
  readonly tokenType: TokenType;
}

export const END_OF_INPUT = EOF;
