/**
 * The tree of a note: plain data, and lossless together with the text it was made from.
 *
 * A file is cut into units, one a declaration, that tile its text without a gap; white space
 * and comments in front of a declaration belong to its unit. Every offset inside a unit
 * counts from the start of the unit, so a unit stays valid, and the same object, when text
 * in front of it changes: only `Placed.start` moves.
 */
export interface Tree {
  readonly text: string;
  readonly units: readonly Placed[];
}

/** A unit and where it begins in the file. */
export interface Placed {
  readonly start: number;
  readonly unit: Unit;
}

export interface Unit {
  readonly text: string;
  readonly declaration: Declaration;
  /** Every comment of the unit, in order. */
  readonly comments: readonly Comment[];
  readonly problems: readonly Problem[];
}

/** `# …` up to the end of its line. */
export interface Comment {
  readonly start: number;
  readonly end: number;
}

/**
 * Something the syntax could not take, with what is needed to say it in words.
 * `params` of each kind are typed in `problems.ts`.
 */
export interface Problem {
  readonly code: string;
  readonly start: number;
  readonly end: number;
  readonly params: Readonly<Record<string, string | number | boolean>>;
}

export interface Name {
  readonly name: string;
  readonly start: number;
  readonly end: number;
}

/** A string; `value` is its text without quotes and escapes. */
export interface Text {
  readonly value: string;
  readonly start: number;
  readonly end: number;
}

/** A number as written, its sign included; `text` keeps every digit. `unit` is '' | 'ms' | 's' | '%'. */
export interface Quantity {
  readonly text: string;
  readonly unit: string;
  readonly start: number;
  readonly end: number;
}

interface DeclarationBase {
  /** From the first token of the declaration to the end of its last. */
  readonly start: number;
  readonly end: number;
}

export interface UseDeclaration extends DeclarationBase {
  readonly kind: 'use';
  readonly path: Text | undefined;
}

export interface GameDeclaration extends DeclarationBase {
  readonly kind: 'game';
  readonly title: Text | undefined;
  readonly settings: readonly Setting[];
  readonly inputs: readonly InputLine[];
  readonly pauses: readonly PauseLine[];
  readonly cues: readonly CueLine[];
}

/** `word value…` inside `game`, `pause` and `hands`. A `~` or `.n` value of `pace` is in `pace`. */
export interface Setting {
  readonly key: Name;
  readonly values: readonly Quantity[];
  readonly words: readonly Name[];
  readonly pace: WaitItem | SettleItem | undefined;
  readonly start: number;
  readonly end: number;
}

/** `D = y +1 "note"` (an axis and a value on it) or `J = jump "note"` (a button). */
export interface InputLine {
  readonly letter: Name;
  readonly target: Name | undefined;
  readonly value: Quantity | undefined;
  readonly note: Text | undefined;
  readonly start: number;
  readonly end: number;
}

export interface PauseLine {
  readonly letter: Name | undefined;
  readonly settings: readonly Setting[];
  readonly start: number;
  readonly end: number;
}

export interface CueLine {
  readonly frame: Quantity | undefined;
  readonly text: Text | undefined;
  readonly start: number;
  readonly end: number;
}

export interface HandsDeclaration extends DeclarationBase {
  readonly kind: 'hands';
  readonly name: Name | undefined;
  readonly settings: readonly Setting[];
}

export interface Coordinates {
  readonly values: readonly Quantity[];
  readonly start: number;
  readonly end: number;
}

export interface SpotDeclaration extends DeclarationBase {
  readonly kind: 'spot';
  readonly spot: Name | undefined;
  readonly paused: boolean;
  readonly at: Coordinates | undefined;
  readonly cue: Text | undefined;
}

export interface LetDeclaration extends DeclarationBase {
  readonly kind: 'let';
  readonly name: Name | undefined;
  readonly body: readonly Item[];
}

export interface SeenDeclaration extends DeclarationBase {
  readonly kind: 'seen';
  readonly rows: readonly SeenRow[];
}

/** `@from : items -> @to x22`; `count` is 1 where none is written, `counted` says which. */
export interface SeenRow {
  readonly from: Name;
  readonly body: readonly Item[];
  readonly to: Name | undefined;
  readonly count: number;
  readonly counted: boolean;
  readonly start: number;
  readonly end: number;
}

export interface GroundDeclaration extends DeclarationBase {
  readonly kind: 'ground';
  readonly name: Name | undefined;
  readonly within: Coordinates | undefined;
  readonly to: Coordinates | undefined;
  readonly moves: readonly GroundMove[];
}

export interface GroundMove {
  readonly body: readonly Item[];
  readonly by: Coordinates | undefined;
  readonly start: number;
  readonly end: number;
}

/** One spot of `from`, with its weight (`x3`), 1 where none is written. */
export interface StartSpot {
  readonly spot: Name;
  readonly weight: number;
  readonly end: number;
}

export interface RouteDeclaration extends DeclarationBase {
  readonly kind: 'route';
  readonly name: Name | undefined;
  readonly title: Text | undefined;
  /** undefined where there is no `from`; 'anywhere' or the spots. */
  readonly from: 'anywhere' | readonly StartSpot[] | undefined;
  readonly to: Name | undefined;
  readonly body: readonly Item[];
}

export interface RescueDeclaration extends DeclarationBase {
  readonly kind: 'rescue';
  readonly spot: Name | undefined;
  readonly route: Name | undefined;
  readonly body: readonly Item[];
  readonly to: Name | undefined;
}

/** Text in which no declaration could be recognised, or (empty) the end of the file. */
export interface BrokenDeclaration extends DeclarationBase {
  readonly kind: 'broken';
}

export type Declaration =
  | UseDeclaration
  | GameDeclaration
  | HandsDeclaration
  | SpotDeclaration
  | LetDeclaration
  | SeenDeclaration
  | GroundDeclaration
  | RouteDeclaration
  | RescueDeclaration
  | BrokenDeclaration;

export type DeclarationKind = Declaration['kind'];

/**
 * How many, as written: `lo` to `hi`, in frames, or in microseconds where a length in time was
 * written (`D250ms`). `written` is false for a bare `D` or `.`, which count 1.
 */
export interface Count {
  readonly lo: number;
  readonly hi: number;
  readonly unit: 'frames' | 'microseconds';
  readonly written: boolean;
}

/** `*8`, `*5..9`, `*6+` (then `open`), with `until @a` where one follows. */
export interface Repeat {
  readonly lo: number;
  readonly hi: number;
  readonly open: boolean;
  readonly until: Name | undefined;
  readonly start: number;
  readonly end: number;
}

/** What follows an item: the claim that the character is at a spot, or a note for the player. */
export type Mark = ClaimMark | NoteMark;
export interface ClaimMark {
  readonly kind: 'claim';
  readonly name: string;
  readonly start: number;
  readonly end: number;
}
export interface NoteMark {
  readonly kind: 'note';
  readonly value: string;
  readonly start: number;
  readonly end: number;
}

interface ItemBase {
  /** The item itself with its repeat, without its marks. */
  readonly start: number;
  readonly end: number;
  /** Where the `-` stands that joins it to the item before, or -1. */
  readonly join: number;
  readonly repeat: Repeat | undefined;
  readonly marks: readonly Mark[];
}

/** `DR2`: `inputs` are its letters as written. The count's text follows the letters. */
export interface PressItem extends ItemBase {
  readonly kind: 'press';
  readonly inputs: string;
  readonly count: Count;
}
export interface WaitItem extends ItemBase {
  readonly kind: 'wait';
  readonly count: Count;
}
export interface SettleItem extends ItemBase {
  readonly kind: 'settle';
}
/** `( … )`. `bodyEnd` is where `)` stands, or where it should. */
export interface GroupItem extends ItemBase {
  readonly kind: 'group';
  readonly body: readonly Item[];
  readonly bodyStart: number;
  readonly bodyEnd: number;
}
/** `[ … ]`; each chain of joined items in it is one window. */
export interface PauseItem extends ItemBase {
  readonly kind: 'pause';
  readonly body: readonly Item[];
  readonly bodyStart: number;
  readonly bodyEnd: number;
}
/** `DR&( … )`. */
export interface HoldItem extends ItemBase {
  readonly kind: 'hold';
  readonly inputs: string;
  readonly body: readonly Item[];
  readonly bodyStart: number;
  readonly bodyEnd: number;
}
/** A phrase by its name. */
export interface PhraseItem extends ItemBase {
  readonly kind: 'phrase';
  readonly name: string;
  readonly nameEnd: number;
}
/** `pace .2` or `pace ~`. */
export interface PaceItem extends ItemBase {
  readonly kind: 'pace';
  readonly pace: WaitItem | SettleItem | undefined;
}
export interface ChooseItem extends ItemBase {
  readonly kind: 'choose';
  readonly name: Name | undefined;
  readonly ways: readonly Way[];
}
export interface Way {
  readonly name: Name;
  readonly body: readonly Item[];
  readonly start: number;
  readonly end: number;
}
/** Marks with no item in front of them (a claim at the very start of a block). */
export interface MarkItem extends ItemBase {
  readonly kind: 'mark';
}

export type Item =
  | PressItem
  | WaitItem
  | SettleItem
  | GroupItem
  | PauseItem
  | HoldItem
  | PhraseItem
  | PaceItem
  | ChooseItem
  | MarkItem;
