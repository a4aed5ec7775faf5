import { EmbeddedActionsParser, type IToken, type TokenType } from 'chevrotain';
import { ItemsBuilder } from './items.js';
import { OneTokenLookahead } from './lookahead.js';
import * as N from './nodes.js';
import { Scanner, type ScannedToken } from './scanner.js';
import * as T from './tokens.js';
import type * as Tree from './tree.js';

/**
 * The grammar of one declaration, for Chevrotain.
 *
 * It is flat on purpose. A sequence is a run of tokens; brackets are matched by the builder
 * (`items.ts`) on a stack of its own, so that no depth of nesting can exhaust the machine's,
 * a missing bracket costs one report, and the hot path is one table look-up a token. Where
 * something is missing or stray the rules take what is there and say so; Chevrotain's own
 * recovery stays on behind them.
 */
interface Alternative {
  readonly ALT: () => void;
  readonly IGNORE_AMBIGUITIES?: boolean;
}

/** What Chevrotain's parsers have for recording, which its types do not tell of. */
interface Recorder {
  enableRecording(): void;
  consumeInternalRecord(type: TokenType, index: number): IToken;
  optionInternalRecord(action: unknown, index: number): unknown;
  subruleInternalRecord(rule: unknown, index: number): unknown;
  orInternalRecord(alternatives: unknown, index: number): unknown;
  manyInternalRecord(index: number, action: unknown): void;
  atLeastOneInternalRecord(index: number, action: unknown): void;
}

const RECORDER_METHODS = [
  'consumeInternalRecord', 'optionInternalRecord', 'subruleInternalRecord', 'orInternalRecord',
  'manyInternalRecord', 'atLeastOneInternalRecord',
] as const; // prettier-ignore

const SPOT = T.Spot.tokenTypeIdx;
const SIGHTINGS = T.Sightings.tokenTypeIdx;
const END_TOKEN = new Scanner().token();

export class NotationParser extends EmbeddedActionsParser {
  readonly build = new ItemsBuilder();
  result: Tree.Declaration | undefined;
  readonly scanner: Scanner;

  private readonly kinds: Alternative[];
  private readonly oneHeaderPart: () => void;
  private readonly rowAlternatives: Alternative[];
  private readonly gameAlternatives: Alternative[];
  private readonly innerAlternatives: Alternative[];
  private readonly handsAlternatives: Alternative[];
  private readonly valueAlternatives: Alternative[];
  private readonly moreMoves: () => boolean;

  // What the alternatives of a running rule fill in.
  private previous: IToken = END_TOKEN;
  private rows: Tree.SeenRow[] = [];
  private moves: Tree.GroundMove[] = [];
  private entries: N.EntryParts[] = [];
  private inner: N.EntryParts[] = [];
  private inputLines: Tree.InputLine[] = [];
  private parts: ScannedToken[] = [];
  /** The word that coordinates follow. */
  private placedBy = '';
  private title: Tree.Text | undefined;
  private from: 'anywhere' | Tree.StartSpot[] | undefined;
  private to: Tree.Name | undefined;

  constructor(options: { skipValidations: boolean }) {
    const scanner = new Scanner();
    super(T.TOKEN_TYPES, {
      recoveryEnabled: true,
      maxLookahead: 1,
      lookaheadStrategy: new OneTokenLookahead(scanner),
      skipValidations: options.skipValidations,
    });
    this.scanner = scanner;
    const build = this.build;

    // Alternatives are made here, once: a rule would make them anew each time that it runs.
    this.kinds = [
      { ALT: () => this.SUBRULE(this.use) },
      { ALT: () => this.SUBRULE(this.game) },
      { ALT: () => this.SUBRULE(this.hands) },
      { ALT: () => this.SUBRULE(this.spotDeclaration) },
      { ALT: () => this.SUBRULE(this.phrase) },
      { ALT: () => this.SUBRULE(this.seen) },
      { ALT: () => this.SUBRULE(this.ground) },
      { ALT: () => this.SUBRULE(this.route) },
      { ALT: () => this.SUBRULE(this.rescue) },
    ];

    // The last alternative: whatever the ones in front of it do not begin with.
    const stray = (type: TokenType, instead: string): Alternative => ({
      ALT: () => {
        const token = this.takeAgain(9, type);
        if (!this.RECORDING_PHASE) build.strayText(token, instead);
      },
      IGNORE_AMBIGUITIES: true,
    });

    this.rowAlternatives = [
      { ALT: () => this.SUBRULE(this.row) },
      stray(T.AnyInside, 'a row such as "@reed : U -> @rush x22"'),
    ];
    this.moreMoves = () =>
      this.RECORDING_PHASE || this.LA(1).tokenTypeIdx !== T.RightBrace.tokenTypeIdx;
    const value = (type: TokenType): Alternative => ({
      ALT: () => {
        const token = this.take(type);
        if (!this.RECORDING_PHASE) this.parts.push(token);
      },
    });
    this.valueAlternatives = N.VALUE_TOKENS.map(value);
    const entry: Alternative = {
      ALT: () => {
        const made = this.SUBRULE(this.entry);
        if (!this.RECORDING_PHASE) this.entries.push(made);
      },
    };
    this.gameAlternatives = [
      entry,
      stray(T.AnyInside, 'clock, settle, pace, inputs, pause or cue'),
    ];
    this.innerAlternatives = [
      {
        ALT: () => {
          const made = this.SUBRULE(this.innerEntry);
          if (!this.RECORDING_PHASE) this.inner.push(made);
        },
      },
      {
        ALT: () => {
          const line = this.SUBRULE(this.inputLine);
          if (!this.RECORDING_PHASE) this.inputLines.push(line);
        },
      },
      stray(T.AnyInside, 'a line such as "D = y +1"'),
    ];
    this.handsAlternatives = [
      {
        ALT: () => {
          const made = this.SUBRULE(this.innerEntry);
          if (!this.RECORDING_PHASE) this.entries.push(made);
        },
      },
      stray(T.AnyInside, 'a setting such as "spread 9ms"'),
    ];
    const header: Alternative[] = [
      {
        ALT: () => {
          const token = this.once(this.take(T.Str), this.title, 'from, to or {');
          this.title = this.textOf(token);
        },
      },
      { ALT: () => (this.from = this.SUBRULE(this.starts)) },
      { ALT: () => (this.to = this.SUBRULE(this.goal)) },
      stray(T.AnyBefore, 'a title in quotes, from, to or {'),
    ];
    this.oneHeaderPart = () => this.OR(header);
    this.performSelfAnalysis();
  }

  /**
   * Chevrotain records the grammar by putting other methods in place of its own, nearly a
   * hundred on every parser, and taking them off again. Only those used here are needed.
   */
  protected enableRecording(): void {
    const recorder = this as unknown as Recorder;
    if (!RECORDER_METHODS.every((name) => typeof recorder[name] === 'function')) {
      // Another version, with other names inside: let it do it in its own way.
      (EmbeddedActionsParser.prototype as unknown as Recorder).enableRecording.call(this);
      return;
    }
    this.RECORDING_PHASE = true;
    Object.assign(this, {
      LA: () => END_TOKEN,
      consume: (k: number, type: TokenType) => recorder.consumeInternalRecord(type, k),
      option: (k: number, action: unknown) => recorder.optionInternalRecord(action, k),
      OPTION: (action: unknown) => recorder.optionInternalRecord(action, 0),
      SUBRULE: (rule: unknown) => recorder.subruleInternalRecord(rule, 0),
      SUBRULE2: (rule: unknown) => recorder.subruleInternalRecord(rule, 2),
      OR: (alternatives: unknown) => recorder.orInternalRecord(alternatives, 0),
      OR2: (alternatives: unknown) => recorder.orInternalRecord(alternatives, 2),
      MANY: (action: unknown) => recorder.manyInternalRecord(0, action),
      AT_LEAST_ONE: (action: unknown) => recorder.atLeastOneInternalRecord(0, action),
    });
  }

  // Chevrotain's view of the tokens: they are scanned as they are asked for, and only those
  // that it takes become objects. Its state is the number of tokens taken.
  protected override LA(k: number): IToken {
    return k === 1 ? this.scanner.token() : k > 1 ? this.scanner.ahead(k - 1) : this.previous;
  }
  protected override LA_FAST(k: number): IToken {
    return this.LA(k);
  }
  protected override SKIP_TOKEN(): IToken {
    this.scanner.advance();
    return this.scanner.token();
  }
  protected consumeToken(): void {
    this.previous = this.scanner.token();
    this.scanner.advance();
  }
  protected exportLexerState(): number {
    return this.scanner.taken;
  }
  protected importLexerState(taken: number): void {
    this.scanner.rewind(taken);
  }
  protected resetLexerState(): void {
    // `Scanner.begin` does it.
  }
  protected moveToTerminatedState(): void {
    this.scanner.drain();
  }

  /** The end of the last token taken, for spans and for what is missing behind it. */
  private get lastEnd(): number {
    return this.scanner.lastEnd;
  }

  private take(type: TokenType): ScannedToken {
    return this.takeAgain(0, type);
  }

  private takeAgain(index: number, type: TokenType): ScannedToken {
    const { scanner } = this;
    if (this.RECORDING_PHASE || scanner.tokenTypeIdx !== type.tokenTypeIdx) {
      return this.consume(index, type) as ScannedToken;
    }
    const token = scanner.token();
    scanner.advance();
    return token;
  }

  /** A token that may be missing. One comparison decides, so Chevrotain only records it. */
  private optional(index: number, type: TokenType): ScannedToken | undefined {
    if (this.RECORDING_PHASE) return this.option(index, () => this.takeAgain(index, type));
    return this.scanner.tokenTypeIdx === type.tokenTypeIdx
      ? this.takeAgain(index, type)
      : undefined;
  }

  /** The same where only its being there counts: no token has to be made. */
  private has(index: number, type: TokenType): boolean {
    if (this.RECORDING_PHASE) return this.optional(index, type) !== undefined;
    if (this.scanner.tokenTypeIdx !== type.tokenTypeIdx) return false;
    this.scanner.advance();
    return true;
  }

  /** A token that has to be there, as a name: as such alone it is kept. */
  private takeName(type: TokenType): Tree.Name {
    const { scanner } = this;
    if (this.RECORDING_PHASE || scanner.tokenTypeIdx !== type.tokenTypeIdx) {
      return N.nameAt(this.take(type));
    }
    const name = N.nameAt(scanner);
    scanner.advance();
    return name;
  }

  private optionalName(index: number, type: TokenType): Tree.Name | undefined {
    const { scanner } = this;
    if (this.RECORDING_PHASE) return N.nameOf(this.optional(index, type));
    if (scanner.tokenTypeIdx !== type.tokenTypeIdx) return undefined;
    const name = N.nameAt(scanner);
    scanner.advance();
    return name;
  }

  private missing(what: string, after: string): void {
    if (this.RECORDING_PHASE) return;
    this.build.report('something-missing', this.lastEnd, this.lastEnd, { what, after });
  }

  /** Reports that a sequence is empty; what stood there and was no item has its own report. */
  private needItems(body: readonly Tree.Item[], what: string, after: string): void {
    if (body.length > 0) return;
    // Only now: to ask an empty list for its last is slow, and most have no problem.
    const { problems } = this.build;
    const last = problems[problems.length - 1];
    if (last?.end !== this.lastEnd) this.missing(what, after);
  }

  /** A part of a header; where there was one before, the second is reported. */
  private once(token: ScannedToken, before: unknown, instead: string): ScannedToken {
    if (!this.RECORDING_PHASE && before !== undefined) this.build.strayText(token, instead);
    return token;
  }

  private parseItems(): Tree.Item[] {
    if (this.RECORDING_PHASE) {
      this.SUBRULE(this.items);
      return [];
    }
    this.build.takeAll(this.scanner);
    return this.build.finish(this.lastEnd);
  }

  /** `{` items `}`; reports either brace where it is missing. */
  private parseBlock(what: string): Tree.Item[] {
    const open = this.optional(8, T.LeftBrace);
    if (open === undefined && !this.RECORDING_PHASE) {
      this.missing(`{ and the items of the ${what}`, what);
      return [];
    }
    if (!this.RECORDING_PHASE && open !== undefined) this.build.beginBlock(open, what);
    return this.parseItems();
  }

  // The builder takes the tokens of a sequence by itself; this is what it takes.
  items = this.RULE('items', () => {
    this.MANY(() => this.take(T.Any));
  });

  declaration = this.RULE('declaration', () => {
    this.OR(this.kinds);
  });

  use = this.RULE('use', () => {
    const word = this.take(T.Use);
    const path = this.optional(1, T.Str);
    if (path === undefined) this.missing('the path of a file in quotes', 'use');
    this.set(word, (at) => ({ kind: 'use', ...at, path: this.textOf(path) }));
  });

  game = this.RULE('game', () => {
    const word = this.take(T.Game);
    const title = this.optional(1, T.Str);
    if (title === undefined) this.missing('the title of the game in quotes', 'game');
    this.entries = [];
    const open = this.optional(2, T.LeftBrace);
    if (open === undefined) this.missing('{ and the settings of the game', 'game');
    this.MANY(() => this.OR(this.gameAlternatives));
    this.closeBrace(3, open, 'game');
    const entries = this.entries;
    this.set(word, (at) => ({
      kind: 'game',
      ...at,
      title: this.textOf(title),
      ...N.gameParts(entries, this.build),
    }));
  });

  hands = this.RULE('hands', () => {
    const word = this.take(T.Hands);
    const name = this.optional(1, T.Word);
    this.entries = [];
    const open = this.optional(2, T.LeftBrace);
    if (open === undefined) this.missing('{ and the settings of the hands', 'hands');
    this.MANY(() => this.OR(this.handsAlternatives));
    this.closeBrace(3, open, 'hands');
    const entries = this.entries;
    this.set(word, (at) => ({
      kind: 'hands',
      ...at,
      name: N.nameOf(name),
      settings: N.handsSettings(entries, this.build),
    }));
  });

  entry = this.RULE('entry', (): N.EntryParts => {
    const key = this.OR([{ ALT: () => this.take(T.Word) }, { ALT: () => this.take(T.Pace) }]);
    this.parts = [];
    this.MANY(() => this.OR2(this.valueAlternatives));
    const parts = this.parts;
    this.inner = [];
    this.inputLines = [];
    const block = this.OPTION(() => this.SUBRULE(this.innerBlock)) ?? false;
    const end = this.lastEnd;
    return { key, parts, block, inner: this.inner, inputs: this.inputLines, end };
  });

  innerBlock = this.RULE('innerBlock', (): boolean => {
    const open = this.take(T.LeftBrace);
    this.MANY(() => this.OR(this.innerAlternatives));
    this.closeBrace(1, open, 'block');
    return true;
  });

  innerEntry = this.RULE('innerEntry', (): N.EntryParts => {
    const key = this.take(T.Word);
    this.parts = [];
    this.MANY(() => this.OR(this.valueAlternatives));
    const end = this.lastEnd;
    return { key, parts: this.parts, block: false, inner: [], inputs: [], end };
  });

  inputLine = this.RULE('inputLine', (): Tree.InputLine => {
    const letter = this.take(T.Press);
    const equals = this.optional(1, T.Equals);
    if (equals === undefined) this.missing(`= and what ${letter.image} is`, letter.image);
    const target = this.optional(2, T.Word);
    if (target === undefined) this.missing('an axis with its value, or a button', '=');
    let sign: ScannedToken | undefined;
    this.OPTION(() => {
      sign = this.OR([{ ALT: () => this.take(T.Join) }, { ALT: () => this.take(T.Plus) }]);
    });
    const value = this.optional(3, T.Quantity);
    const note = this.optional(4, T.Str);
    return {
      letter: N.nameAt(letter),
      target: N.nameOf(target),
      value: N.quantityOf(value, sign),
      note: this.textOf(note),
      start: letter.startOffset,
      end: this.lastEnd,
    };
  });

  spotDeclaration = this.RULE('spot', () => {
    const word = this.take(T.SpotWord);
    const spot = this.optional(1, T.Spot);
    if (spot === undefined) this.missing('the name of the spot, such as @reed', 'spot');
    let paused = false;
    let at: Tree.Coordinates | undefined;
    let cue: Tree.Text | undefined;
    this.MANY(() =>
      this.OR([
        {
          ALT: () => {
            this.take(T.Paused);
            paused = true;
          },
        },
        {
          ALT: () => {
            this.once(this.take(T.At), at, 'a text in quotes, or a new declaration');
            this.placedBy = 'at';
            at = this.SUBRULE(this.coordinates);
          },
        },
        {
          ALT: () => {
            cue = this.textOf(this.once(this.take(T.Str), cue, 'a new declaration'));
          },
        },
      ]),
    );
    this.set(word, (place) => ({
      kind: 'spot', ...place, spot: N.nameOf(spot), paused, at, cue,
    })); // prettier-ignore
  });

  coordinates = this.RULE('coordinates', (): Tree.Coordinates => {
    const start = this.lastEnd;
    const values: Tree.Quantity[] = [];
    const open = this.optional(1, T.LeftParen);
    if (open === undefined) this.missing('coordinates such as (412, 88)', this.placedBy);
    let sign: ScannedToken | undefined;
    this.MANY(() =>
      this.OR([
        { ALT: () => (sign = this.take(T.Join)) },
        { ALT: () => (sign = this.take(T.Plus)) },
        { ALT: () => this.take(T.Comma) },
        {
          ALT: () => {
            const token = this.take(T.Quantity);
            const quantity = N.quantityOf(token, sign);
            sign = undefined;
            if (this.RECORDING_PHASE || quantity === undefined) return;
            if (values.length < 3) values.push(quantity);
            else this.build.strayText(token, ') after the third number');
          },
        },
      ]),
    );
    if (open !== undefined && values.length < 2) {
      this.missing(values.length === 0 ? 'two numbers, x and y' : 'the second number, y', '(');
    }
    const close = this.optional(2, T.RightParen);
    if (open !== undefined && close === undefined) this.missing(')', 'the coordinates');
    return { values, start: open?.startOffset ?? start, end: this.lastEnd };
  });

  phrase = this.RULE('let', () => {
    const word = this.take(T.Let);
    const name = this.optional(1, T.Word);
    if (name === undefined) this.missing('the name of the phrase', 'let');
    const equals = this.optional(2, T.Equals);
    if (equals === undefined) this.missing('= and the items of the phrase', 'the name');
    if (!this.RECORDING_PHASE) this.build.beginPhrase();
    const body = this.parseItems();
    if (equals !== undefined) this.needItems(body, 'the items of the phrase', '=');
    this.set(word, ({ start, end }) => ({ kind: 'let', start, end, name: N.nameOf(name), body }));
  });

  seen = this.RULE('seen', () => {
    const word = this.take(T.Seen);
    const open = this.optional(1, T.LeftBrace);
    if (open === undefined) this.missing('{ and the rows of the log', 'seen');
    this.rows = [];
    this.takeRows();
    this.MANY(() => this.OR(this.rowAlternatives));
    this.closeBrace(2, open, 'seen');
    const rows = this.rows;
    this.set(word, ({ start, end }) => ({ kind: 'seen', start, end, rows }));
  });

  /**
   * The rows up to the first that does not begin with a spot. A log is mostly rows, and a rule
   * is invoked at a price: a row, which takes whatever it finds, has no need of one.
   */
  private takeRows(): void {
    if (this.RECORDING_PHASE) return;
    while (this.scanner.tokenTypeIdx === SPOT) this.takeRow();
  }

  row = this.RULE('row', () => this.takeRow());

  private takeRow(): void {
    const from = this.takeName(T.Spot);
    const colon = this.has(5, T.Colon);
    if (!colon) this.missing(': and what was pressed', `@${from.name}`);
    if (!this.RECORDING_PHASE) this.build.beginRow();
    const body = this.parseItems();
    if (colon) this.needItems(body, 'what was pressed', ':');
    const arrow = this.has(2, T.Arrow);
    let to: Tree.Name | undefined;
    if (!arrow) this.missing('-> and the spot where it led', 'the row');
    // Without an arrow a spot is the next row's.
    if (arrow || this.RECORDING_PHASE) to = this.optionalName(1, T.Spot);
    if (arrow && to === undefined) this.missing('the spot where it led', '->');
    const { scanner } = this;
    const counted = scanner.tokenTypeIdx === SIGHTINGS;
    const count = counted ? this.build.sightings(scanner) : 1;
    this.has(3, T.Sightings);
    if (this.RECORDING_PHASE) return;
    const { start } = from;
    this.rows.push({ from, body, to, count, counted, start, end: this.lastEnd });
  }

  ground = this.RULE('ground', () => {
    const word = this.take(T.Ground);
    const name = this.optional(1, T.Word);
    if (name === undefined) this.missing('the name of the ground', 'ground');
    let within: Tree.Coordinates | undefined;
    let to: Tree.Coordinates | undefined;
    this.OPTION(() => {
      this.take(T.Within);
      this.placedBy = 'within';
      within = this.SUBRULE(this.coordinates);
      const word2 = this.optional(2, T.To);
      if (word2 === undefined) this.missing('to and the opposite corner', 'within (…)');
      this.placedBy = 'to';
      if (word2 !== undefined || this.RECORDING_PHASE) to = this.SUBRULE2(this.coordinates);
    });
    const open = this.optional(3, T.LeftBrace);
    if (open === undefined) this.missing('{ and the moves of the ground', 'ground');
    this.moves = [];
    this.MANY({ GATE: this.moreMoves, DEF: () => this.SUBRULE(this.move) });
    this.closeBrace(4, open, 'ground');
    const moves = this.moves;
    this.set(word, (at) => ({ kind: 'ground', ...at, name: N.nameOf(name), within, to, moves }));
  });

  move = this.RULE('move', () => {
    const start = this.RECORDING_PHASE ? 0 : this.LA(1).startOffset;
    if (!this.RECORDING_PHASE) this.build.beginMove();
    // `by` may be the first of it; something always is.
    if (this.RECORDING_PHASE) this.AT_LEAST_ONE(() => this.take(T.Any));
    const body = this.RECORDING_PHASE ? [] : this.parseItems();
    this.needItems(body, 'the items of the move', this.moves.length > 0 ? ')' : '{');
    const word = this.optional(1, T.By);
    let by: Tree.Coordinates | undefined;
    if (word === undefined) this.missing('by and what the move adds', 'the move');
    this.placedBy = 'by';
    if (word !== undefined || this.RECORDING_PHASE) by = this.SUBRULE(this.coordinates);
    if (this.RECORDING_PHASE) return;
    this.moves.push({ body, by, start, end: this.lastEnd });
  });

  route = this.RULE('route', () => {
    const word = this.take(T.Route);
    const name = this.optional(1, T.Word);
    if (name === undefined) this.missing('the name of the route', 'route');
    this.title = undefined;
    this.from = undefined;
    this.to = undefined;
    this.MANY(this.oneHeaderPart);
    const { title, from, to } = this;
    const body = this.parseBlock('route');
    this.set(word, ({ start, end }) => ({
      kind: 'route', start, end, name: N.nameOf(name), title, from, to, body,
    })); // prettier-ignore
  });

  goal = this.RULE('goal', (): Tree.Name | undefined => {
    this.once(this.take(T.To), this.to, '{, since the goal is given');
    const spot = this.optional(1, T.Spot);
    if (spot === undefined) this.missing('the goal, such as @past', 'to');
    return N.nameOf(spot);
  });

  starts = this.RULE('starts', (): 'anywhere' | Tree.StartSpot[] => {
    this.once(this.take(T.From), this.from, 'to or {, since the start is given');
    const spots: Tree.StartSpot[] = [];
    const anywhere = this.optional(4, T.Anywhere) !== undefined;
    this.MANY(() => {
      const spot = this.take(T.Spot);
      const times = this.optional(2, T.Sightings);
      this.optional(3, T.Comma);
      if (this.RECORDING_PHASE) return;
      if (anywhere) this.build.strayText(spot, 'to or {, since anywhere takes in every spot');
      const weight = times === undefined ? 1 : this.build.sightings(times);
      spots.push({ spot: N.nameAt(spot), weight, end: times?.end ?? spot.end });
    });
    if (!anywhere && spots.length === 0)
      this.missing('anywhere, or the spots to start from', 'from');
    return anywhere ? 'anywhere' : spots;
  });

  rescue = this.RULE('rescue', () => {
    const word = this.take(T.Rescue);
    const spot = this.optional(1, T.Spot);
    if (spot === undefined) this.missing('the spot to be rescued from', 'rescue');
    const within = this.optional(2, T.In);
    if (within === undefined) this.missing('in and the name of the route', 'the spot');
    const route = this.optional(3, T.Word);
    if (within !== undefined && route === undefined) this.missing('the name of the route', 'in');
    const body = this.parseBlock('rescue');
    const arrow = this.optional(4, T.Arrow);
    const to = this.optional(5, T.Spot);
    if (arrow === undefined || to === undefined) {
      this.missing('-> and the claimed spot where the route goes on', 'the rescue');
    }
    this.set(word, (at) => ({
      kind: 'rescue', ...at, spot: N.nameOf(spot), route: N.nameOf(route), body, to: N.nameOf(to),
    })); // prettier-ignore
  });

  private closeBrace(index: number, open: IToken | undefined, what: string): void {
    const close = this.optional(index, T.RightBrace);
    if (this.RECORDING_PHASE || close !== undefined || open === undefined) return;
    this.build.report('unclosed-block', open.startOffset, open.startOffset + 1, { what });
  }

  private textOf(token: ScannedToken | undefined): Tree.Text | undefined {
    if (token === undefined || this.RECORDING_PHASE) return undefined;
    return this.build.textOf(token);
  }

  // The makers of what comes often spell `start` and `end` out: a spread is slower by far.
  private set(word: IToken, make: (at: { start: number; end: number }) => Tree.Declaration): void {
    if (this.RECORDING_PHASE) return;
    this.result = make({ start: word.startOffset, end: Math.max(this.lastEnd, word.startOffset) });
  }
}
