import type { TokenType } from 'chevrotain';
import { LIMITS } from '../text/limits.js';
import type { SyntaxCode, SyntaxProblems } from './problems.js';
import { isClosedString, type ScannedToken, type Scanner } from './scanner.js';
import * as T from './tokens.js';
import type * as Tree from './tree.js';

/** An item while it is being built: its repeat and marks come behind it. */
type Growing<I> = { -readonly [K in keyof I]: I[K] };
type GrowingItem =
  | Growing<Tree.PressItem>
  | Growing<Tree.WaitItem>
  | Growing<Tree.SettleItem>
  | Growing<Tree.GroupItem>
  | Growing<Tree.PauseItem>
  | Growing<Tree.HoldItem>
  | Growing<Tree.PhraseItem>
  | Growing<Tree.PaceItem>
  | Growing<Tree.ChooseItem>
  | Growing<Tree.MarkItem>;

const NO_MARKS: readonly Tree.Mark[] = Object.freeze([]);
const NO_WAYS: Tree.Way[] = [];

/** What a token does in a sequence, as small numbers by the index of its type. */
const enum Take {
  Stray, Press, Wait, Settle, Join, Repeat, OpenGroup, CloseGroup, OpenPause, ClosePause,
  OpenBrace, CloseBrace, Amp, Claim, Note, Word, Choose, Pace, Until,
} // prettier-ignore

const index = (type: TokenType): number => type.tokenTypeIdx ?? 0;
const END = index(T.END_OF_INPUT);
const [WAIT, SETTLE, WORD, SPOT] = [T.Wait, T.Settle, T.Word, T.Spot].map(index);
const [LEFT_BRACE, RIGHT_BRACE] = [T.LeftBrace, T.RightBrace].map(index);
const [BY, ARROW, SIGHTINGS, UNTIL] = [T.By, T.Arrow, T.Sightings, T.Until].map(index);
const [COLON_CODE, LEFT_BRACE_CODE, LEFT_PAREN_CODE] = [58, 123, 40];

const ACTIONS: Take[] = [];
for (const [type, take] of [
  [T.Press, Take.Press],
  [T.Wait, Take.Wait],
  [T.Settle, Take.Settle],
  [T.Join, Take.Join],
  [T.Repeat, Take.Repeat],
  [T.LeftParen, Take.OpenGroup],
  [T.RightParen, Take.CloseGroup],
  [T.LeftSquare, Take.OpenPause],
  [T.RightSquare, Take.ClosePause],
  [T.LeftBrace, Take.OpenBrace],
  [T.RightBrace, Take.CloseBrace],
  [T.Amp, Take.Amp],
  [T.Spot, Take.Claim],
  [T.Str, Take.Note],
  [T.Word, Take.Word],
  [T.Choose, Take.Choose],
  [T.Pace, Take.Pace],
  [T.Until, Take.Until],
] as const) {
  ACTIONS[index(type)] = take;
}
// No holes: an array without them is read without a look at its prototype.
for (let k = 0; k < ACTIONS.length; k++) ACTIONS[k] ??= Take.Stray;

const GROUPS: readonly FrameKind[] = ['group', 'hold'];
const PAUSES: readonly FrameKind[] = ['pause'];
const BRACES: readonly FrameKind[] = ['choose', 'way', 'stray'];

type Base = 'block' | 'phrase' | 'row' | 'move';
type FrameKind = 'group' | 'pause' | 'hold' | 'choose' | 'way' | 'stray';

/** An open bracket: what it began, and the sequence around it to go on with. */
interface Frame {
  readonly kind: FrameKind;
  readonly start: number;
  readonly bodyStart: number;
  readonly inputs: string;
  readonly join: number;
  readonly outer: number;
  readonly name: Tree.Name | undefined;
  readonly ways: Tree.Way[];
}

/**
 * Builds the items of a sequence from its tokens, with a stack of open brackets instead of
 * recursion. Every token is taken; what does not fit becomes a problem, never an exception.
 */
export class ItemsBuilder {
  private text = '';
  /** Where the unit begins in the text. */
  origin = 0;
  problems: Tree.Problem[] = [];
  private base: Base = 'phrase';
  /**
   * The items of all open sequences, one behind the other: the innermost is from `bottom` up
   * to `top`. A sequence is cut out once it is whole, in an array of just its length.
   */
  private items: GrowingItem[] = [];
  private bottom = 0;
  private top = 0;
  private frames: Frame[] = [];
  /** Open `choose`, way and stray braces among `frames`. */
  private braces = 0;
  private open = true;
  private join = -1;
  private skippedDepth = 0;
  private holdPress: { inputs: string; start: number } | undefined;
  private holdJoin = -1;
  private pendingChoose: { start: number; name: Tree.Name | undefined } | undefined;
  private pendingWay: Tree.Name | undefined;
  private blockOpen: ScannedToken | undefined;
  private blockWhat = '';

  /** Begins with a unit, whose offsets count from `origin` in the text. */
  reset(text: string, origin: number): void {
    this.text = text;
    this.origin = origin;
    this.problems = [];
    // A new one each time: into one that has grown old, items are stored at a higher price, and
    // those left behind in it would stay alive.
    this.items = [];
    this.begin('phrase');
  }

  report<K extends SyntaxCode>(
    code: K,
    start: number,
    end: number,
    params: SyntaxProblems[K],
  ): void {
    const listed = LIMITS.problemsPerDeclaration;
    if (this.problems.length > listed) return;
    if (this.problems.length === listed) {
      this.problems.push({ code: 'more-problems', start, end, params: { listed } });
      return;
    }
    this.problems.push({ code, start, end, params });
  }

  /** The text between two offsets of the unit. */
  written(start: number, end: number): string {
    return this.text.slice(this.origin + start, this.origin + end);
  }

  private begin(base: Base): void {
    this.base = base;
    this.bottom = this.top = 0;
    this.open = true;
    this.join = -1;
    if (this.frames.length > 0) this.frames = [];
    this.braces = 0;
    this.skippedDepth = 0;
    this.holdPress = undefined;
    this.pendingChoose = undefined;
    this.pendingWay = undefined;
    this.blockOpen = undefined;
  }

  beginBlock(open: ScannedToken, what: string): void {
    this.begin('block');
    this.blockOpen = open;
    this.blockWhat = what;
  }
  beginPhrase(): void {
    this.begin('phrase');
  }
  beginRow(): void {
    this.begin('row');
  }
  beginMove(): void {
    this.begin('move');
  }

  /** Whether the sequence goes on with the token at hand. */
  private more(at: Scanner): boolean {
    const type = at.tokenTypeIdx;
    if (type === END) return false;
    if (this.base === 'block') return this.open;
    if (this.base === 'phrase') return true;
    if (type === RIGHT_BRACE) return this.braces > 0;
    if (this.base === 'move') return type !== BY;
    // A spot with a colon begins the next row, whatever this one lacks.
    if (type === SPOT) return at.nextCode() !== COLON_CODE;
    return type !== ARROW && type !== SIGHTINGS;
  }

  /**
   * Takes the tokens of a sequence. This is the hot path: the scanner is read in place, and
   * no token becomes an object.
   */
  takeAll(at: Scanner): void {
    while (this.more(at)) {
      const take = ACTIONS[at.tokenTypeIdx] ?? Take.Stray;
      switch (take) {
        case Take.Press:
          this.press(at);
          break;
        case Take.Wait:
          this.wait(at);
          break;
        case Take.Settle:
          this.add(this.makeSettle(at, this.takeJoin()));
          break;
        case Take.Join:
          this.joined(at);
          break;
        case Take.Repeat:
          this.repeat(at);
          continue;
        case Take.OpenGroup:
          this.openGroup(at);
          break;
        case Take.CloseGroup:
          this.close(at, GROUPS);
          break;
        case Take.OpenPause:
          this.openPause(at);
          break;
        case Take.ClosePause:
          this.close(at, PAUSES);
          break;
        case Take.OpenBrace:
          this.openBrace(at);
          break;
        case Take.CloseBrace:
          this.closeBrace(at);
          break;
        case Take.Amp:
          this.amp(at);
          break;
        case Take.Claim:
          this.mark({ kind: 'claim', name: at.image, start: at.startOffset, end: at.end });
          break;
        case Take.Note:
          this.checkString(at);
          this.mark({ kind: 'note', value: at.image, start: at.startOffset, end: at.end });
          break;
        case Take.Word:
          this.word(at);
          break;
        case Take.Choose:
          this.choose(at);
          continue;
        case Take.Pace:
          this.pace(at);
          continue;
        case Take.Until:
          this.until(at);
          continue;
        case Take.Stray:
          this.stray(at);
      }
      at.advance();
    }
  }

  /** The items, once no more tokens belong to them; `end` is where the last one ended. */
  finish(end: number): Tree.Item[] {
    while (this.frames.length > 0) this.abandon(end);
    this.settlePending(end);
    if (this.base === 'block' && this.open && this.blockOpen !== undefined) {
      const at = this.blockOpen;
      this.report('unclosed-block', at.startOffset, at.end, { what: this.blockWhat });
    }
    return this.takeBody();
  }

  private press(token: ScannedToken): void {
    this.checkCount(token);
    this.add({
      kind: 'press',
      start: token.startOffset,
      end: token.end,
      join: this.takeJoin(),
      repeat: undefined,
      marks: NO_MARKS,
      inputs: token.image,
      count: token.count,
    });
  }

  private wait(token: ScannedToken): void {
    const last = this.top > this.bottom ? this.items[this.top - 1] : undefined;
    if (last?.end === token.startOffset && this.join < 0) this.checkFraction(last, token);
    this.add(this.makeWait(token, this.takeJoin()));
  }

  /** `D4.5` reads as a fraction and would be a press and a wait. */
  private checkFraction(last: GrowingItem, wait: ScannedToken): void {
    if (last.kind !== 'press' && last.repeat === undefined) return;
    const start = last.repeat?.start ?? last.start;
    const instead = `${this.written(start, last.end)} ${this.written(wait.startOffset, wait.end)}`;
    this.report('odd-word', start, wait.end, { written: this.written(start, wait.end), instead });
  }

  private makeWait(token: ScannedToken, join: number): Growing<Tree.WaitItem> {
    this.checkCount(token);
    return {
      kind: 'wait',
      start: token.startOffset,
      end: token.end,
      join,
      repeat: undefined,
      marks: NO_MARKS,
      count: token.count,
    };
  }

  private makeSettle(token: ScannedToken, join: number): Growing<Tree.SettleItem> {
    return {
      kind: 'settle',
      start: token.startOffset,
      end: token.end,
      join,
      repeat: undefined,
      marks: NO_MARKS,
    };
  }

  /** The `.n` or `~` behind `pace`. */
  paceValue(token: ScannedToken): Tree.WaitItem | Tree.SettleItem {
    return token.tokenType === T.Wait ? this.makeWait(token, -1) : this.makeSettle(token, -1);
  }

  private pace(at: Scanner): void {
    const { startOffset: start, end: wordEnd } = at;
    at.advance();
    const type = at.tokenTypeIdx;
    const value = type === WAIT || type === SETTLE ? at : undefined;
    if (value === undefined) {
      this.report('something-missing', wordEnd, wordEnd, {
        what: 'a wait such as .2, or ~',
        after: 'pace',
      });
    }
    this.dropJoin('after');
    this.add({
      kind: 'pace',
      start,
      end: value?.end ?? wordEnd,
      join: -1,
      repeat: undefined,
      marks: NO_MARKS,
      pace: value === undefined ? undefined : this.paceValue(value),
    });
    if (value !== undefined) at.advance();
  }

  /** A name: a phrase, or in `choose` a way, when a brace follows. */
  private word(token: Scanner): void {
    if (this.inChoose() && token.nextCode() === LEFT_BRACE_CODE) {
      this.pendingWay = { name: token.image, start: token.startOffset, end: token.end };
      return;
    }
    this.add({
      kind: 'phrase',
      start: token.startOffset,
      end: token.end,
      join: this.takeJoin(),
      repeat: undefined,
      marks: NO_MARKS,
      name: token.image,
      nameEnd: token.end,
    });
  }

  private joined(token: ScannedToken): void {
    if (this.join >= 0 || this.top === this.bottom) {
      this.report('join-alone', token.startOffset, token.end, { side: 'before' });
      return;
    }
    this.join = token.startOffset;
  }

  private takeJoin(): number {
    const join = this.join;
    this.join = -1;
    return join;
  }

  private dropJoin(side: string): void {
    if (this.join >= 0) this.report('join-alone', this.join, this.join + 1, { side });
    this.join = -1;
  }

  private add(item: GrowingItem): void {
    if (this.holdPress !== undefined) this.settlePending(item.start);
    if (this.inChoose()) {
      const end = item.kind === 'mark' ? (item.marks[0]?.end ?? item.end) : item.end;
      const written = this.written(item.start, end);
      this.report('outside-ways', item.start, end, { written });
      return;
    }
    this.keep(item);
  }

  private repeat(at: Scanner): void {
    const last = this.last();
    const { startOffset: start, end } = at;
    const { lo, hi } = at.count;
    const open = at.image === '+';
    this.checkCount(at);
    at.advance();
    const unfit =
      last === undefined || last.kind === 'pace' || last.kind === 'choose' || last.kind === 'mark';
    if (unfit || last.repeat !== undefined || last.marks.length > 0 || this.join >= 0) {
      const written = this.written(start, end);
      const twice = last?.repeat !== undefined && last.marks.length === 0 && this.join < 0;
      this.report('repeat-alone', start, end, { written, twice });
      return;
    }
    if (open && at.tokenTypeIdx !== UNTIL) {
      // Without an end it can watch for, the player would never know when to stop.
      this.report('until-alone', start, end, { written: this.written(start, end) });
    }
    last.repeat = { lo, hi: open ? lo : hi, open, until: undefined, start, end };
    last.end = end;
  }

  private until(at: Scanner): void {
    const { startOffset: start, end: wordEnd } = at;
    at.advance();
    let spot: Tree.Name | undefined;
    if (at.tokenTypeIdx === SPOT) {
      spot = { name: at.image, start: at.startOffset, end: at.end };
      at.advance();
    } else {
      this.report('something-missing', wordEnd, wordEnd, {
        what: 'the spot to be seen, such as @reed',
        after: 'until',
      });
    }
    const end = spot?.end ?? wordEnd;
    const last = this.last();
    if (last?.repeat === undefined || last.marks.length > 0 || last.repeat.until !== undefined) {
      this.report('until-alone', start, end, { written: 'until' });
      return;
    }
    last.repeat = { ...last.repeat, until: spot, end };
    last.end = end;
  }

  private mark(mark: Tree.Mark): void {
    this.dropJoin('after');
    const last = this.last();
    if (last === undefined) {
      this.add({
        kind: 'mark',
        start: mark.start,
        end: mark.start,
        join: -1,
        repeat: undefined,
        marks: [mark],
      });
    } else if (last.marks === NO_MARKS) last.marks = [mark];
    else (last.marks as Tree.Mark[]).push(mark);
  }

  private openGroup(token: ScannedToken): void {
    const press = this.holdPress;
    if (press !== undefined) {
      this.holdPress = undefined;
      this.push('hold', token, press.start, press.inputs, this.holdJoin);
    } else this.push('group', token, token.startOffset, '', this.takeJoin());
  }

  private openPause(token: ScannedToken): void {
    if (this.holdPress !== undefined) this.settlePending(token.startOffset);
    this.push('pause', token, token.startOffset, '', this.takeJoin());
  }

  private push(
    kind: FrameKind,
    token: ScannedToken,
    start: number,
    inputs: string,
    join: number,
    name?: Tree.Name,
  ): void {
    if (this.frames.length >= LIMITS.nesting) {
      if (this.skippedDepth === 0) {
        this.report('nested-too-deep', token.startOffset, token.end, { limit: LIMITS.nesting });
      }
      this.skippedDepth++;
      return;
    }
    if (this.inChoose() && kind !== 'way') {
      const written = this.written(token.startOffset, token.end);
      this.report('outside-ways', token.startOffset, token.end, { written });
    }
    const outer = this.bottom;
    const ways = kind === 'choose' ? [] : NO_WAYS;
    this.frames.push({ kind, start, bodyStart: token.end, inputs, join, outer, name, ways });
    if (kind !== 'stray') this.bottom = this.top;
    if (kind === 'choose' || kind === 'way' || kind === 'stray') this.braces++;
  }

  private openBrace(token: ScannedToken): void {
    if (this.pendingChoose !== undefined) {
      const { start, name } = this.pendingChoose;
      this.pendingChoose = undefined;
      this.push('choose', token, start, '', -1, name);
      return;
    }
    const way = this.pendingWay;
    this.pendingWay = undefined;
    if (way !== undefined) {
      this.push('way', token, way.start, '', -1, way);
      return;
    }
    this.report('stray-text', token.startOffset, token.end, {
      written: '{',
      instead: 'an item, or } to end the block',
    });
    this.push('stray', token, token.startOffset, '', -1);
  }

  private closeBrace(token: ScannedToken): void {
    if (this.braces > 0 || this.skippedDepth > 0) {
      this.close(token, BRACES);
      return;
    }
    if (this.base === 'block') {
      while (this.frames.length > 0) this.abandon(token.startOffset);
      this.settlePending(token.startOffset);
      this.open = false;
      return;
    }
    this.report('stray-closer', token.startOffset, token.end, { written: '}' });
  }

  private close(token: ScannedToken, fits: readonly FrameKind[]): void {
    if (this.skippedDepth > 0) {
      this.skippedDepth--;
      return;
    }
    if (this.holdPress !== undefined) this.settlePending(token.startOffset);
    let depth = this.frames.length - 1;
    for (; depth >= 0; depth--) {
      const frame = this.frames[depth];
      if (frame === undefined || fits.includes(frame.kind)) break;
      // A bracket does not reach across the brace of a way.
      if (frame.kind === 'choose' || frame.kind === 'way') {
        if (token.tokenType !== T.RightBrace) depth = -1;
        break;
      }
    }
    if (depth < 0) {
      const written = this.written(token.startOffset, token.end);
      this.report('stray-closer', token.startOffset, token.end, { written });
      return;
    }
    while (this.frames.length - 1 > depth) this.abandon(token.startOffset);
    this.pop(token.startOffset, token.end);
  }

  /** Ends the innermost bracket without its closer. */
  private abandon(end: number): void {
    const frame = this.frames[this.frames.length - 1];
    if (frame !== undefined) {
      const { kind, bodyStart } = frame;
      if (kind === 'pause') this.report('unclosed-pause', bodyStart - 1, bodyStart, {});
      else if (kind === 'group' || kind === 'hold') {
        this.report('unclosed-group', bodyStart - 1, bodyStart, {});
      } else {
        this.report('unclosed-block', bodyStart - 1, bodyStart, {
          what: kind === 'choose' ? 'choose' : 'way',
        });
      }
    }
    this.pop(end, end);
  }

  private pop(bodyEnd: number, end: number): void {
    this.settlePending(bodyEnd);
    const frame = this.frames.pop();
    if (frame === undefined) return;
    const { kind, start, bodyStart, inputs, join, outer, name, ways } = frame;
    if (kind === 'choose' || kind === 'way' || kind === 'stray') this.braces--;
    if (kind === 'stray') return;
    const body = this.takeBody();
    this.bottom = outer;
    if (kind === 'way') {
      const parent = this.frames[this.frames.length - 1];
      if (name !== undefined && parent?.kind === 'choose') {
        parent.ways.push({ name, body, start, end });
      }
      return;
    }
    const repeat = undefined;
    const marks = NO_MARKS;
    // Each spelt out: copying what they share would take longer and leave larger objects.
    if (kind === 'choose') {
      if (ways.length === 0) {
        this.report('something-missing', bodyEnd, bodyEnd, {
          what: 'a way such as "fast { U*8 }"',
          after: 'choose',
        });
      }
      this.keep({ kind, start, end, join, repeat, marks, name, ways });
    } else if (kind === 'hold') {
      const hold = { kind, start, end, join, repeat, marks, inputs, body, bodyStart, bodyEnd };
      this.keep(hold);
    } else {
      this.keep({ kind, start, end, join, repeat, marks, body, bodyStart, bodyEnd });
    }
  }

  /** Whether the innermost open bracket is the brace of a `choose`. */
  private inChoose(): boolean {
    return this.braces > 0 && this.frames[this.frames.length - 1]?.kind === 'choose';
  }

  private keep(item: GrowingItem): void {
    this.items[this.top++] = item;
  }

  private last(): GrowingItem | undefined {
    return this.top > this.bottom ? this.items[this.top - 1] : undefined;
  }

  private takeBody(): Tree.Item[] {
    const { items, bottom, top } = this;
    if (top === bottom) return [];
    // Most sequences in brackets are one item, for which a call to slice costs more than it does.
    const one = top - bottom === 1 ? items[bottom] : undefined;
    const body = (one === undefined ? items.slice(bottom, top) : [one]) as Tree.Item[];
    this.top = bottom;
    // The room stays for the next sequence, unless it is much: it would keep the items alive.
    if (bottom === 0 && items.length > 256) this.items = [];
    return body;
  }

  private choose(at: Scanner): void {
    const { startOffset: start, end: wordEnd } = at;
    at.advance();
    let name: Tree.Name | undefined;
    if (at.tokenTypeIdx === WORD) {
      name = { name: at.image, start: at.startOffset, end: at.end };
      at.advance();
    }
    this.dropJoin('after');
    if (name === undefined) {
      this.report('something-missing', wordEnd, wordEnd, {
        what: 'the name of the choice',
        after: 'choose',
      });
    }
    const end = name?.end ?? wordEnd;
    if (at.tokenTypeIdx !== LEFT_BRACE) {
      this.report('something-missing', end, end, { what: '{ and the ways', after: 'choose' });
      return;
    }
    this.pendingChoose = { start, name };
  }

  /** `&` behind a press; the group must follow. */
  private amp(token: Scanner): void {
    const last = this.last();
    const fits = last?.kind === 'press' && last.repeat === undefined && last.marks.length === 0;
    const inputs = fits ? last.inputs : 'D';
    const opens = token.nextCode() === LEFT_PAREN_CODE;
    if (!fits || last.count.written || !opens) {
      const start = fits ? last.start : token.startOffset;
      const written = this.written(start, token.end);
      this.report('hold-form', start, token.end, { written, inputs });
      if (!fits || !opens) return;
    }
    this.top--;
    this.holdJoin = last.join;
    this.holdPress = { inputs: last.inputs, start: last.start };
  }

  private settlePending(end: number): void {
    this.holdPress = undefined;
    if (this.join >= 0 && end >= this.join) this.dropJoin('after');
  }

  /** A token that is no item: a number, a sign, a word of another declaration. */
  private stray(token: ScannedToken): void {
    const { startOffset: start, end } = token;
    const written = this.written(start, end);
    if (token.tokenType === T.Quantity) {
      const last = this.last();
      const inputs = last?.kind === 'press' && !last.count.written ? last.inputs : '';
      this.report('stray-count', start, end, { written, inputs });
    } else if (token.tokenType === T.Bad && /^[A-Za-z]/.test(written)) {
      this.report('odd-word', start, end, { written, instead: wordInstead(written) });
    } else if (token.tokenType === T.Bad) {
      this.report('stray-text', start, end, { written, instead: badInstead(written) });
    } else this.strayText(token, 'an item such as D3, .12, [D1] or the name of a phrase');
  }

  strayText(token: ScannedToken, instead: string): void {
    this.stray2(token.startOffset, token.end, instead);
  }

  stray2(start: number, end: number, instead: string): void {
    // As much as fits into a sentence: it stands in the message, not only above it.
    const written = this.written(start, Math.min(end, start + 40)).split(/[\r\n]/, 1)[0] ?? '';
    this.report('stray-text', start, end, { written, instead });
  }

  textOf(token: ScannedToken): Tree.Text {
    this.checkString(token);
    return { value: token.image, start: token.startOffset, end: token.end };
  }

  private checkString(token: ScannedToken): void {
    if (!isClosedString(this.text, this.origin + token.startOffset, this.origin + token.end)) {
      this.report('unclosed-text', token.startOffset, token.end, {});
    }
  }

  sightings(token: ScannedToken): number {
    const count = token.count.lo;
    if (count <= LIMITS.count) return count;
    this.report('count-too-large', token.startOffset, token.end, {
      written: token.image,
      limit: LIMITS.count,
    });
    return LIMITS.count;
  }

  private checkCount(token: ScannedToken): void {
    const { lo, hi } = token.count;
    if (lo <= LIMITS.count && hi <= LIMITS.count) return;
    this.report('count-too-large', token.startOffset, token.end, {
      written: this.written(token.startOffset, Math.min(token.end, token.startOffset + 40)),
      limit: LIMITS.count,
    });
  }
}

function wordInstead(written: string): string {
  const presses = written.match(/[A-Z]+[0-9]*/g);
  if (presses !== null && presses.join('') === written) return presses.join('-');
  if (/^[A-Z][a-z]/.test(written)) return written.toLowerCase();
  return '';
}

function badInstead(written: string): string {
  if (written.startsWith('*')) return 'a repeat such as *8, *5..9 or *6+';
  if (written.startsWith('.')) return 'a wait such as .12 or .400ms';
  if (written.startsWith('@')) return 'a spot such as @reed';
  if (/^[0-9]/.test(written)) return 'a count behind a press, such as D4';
  return 'an item such as D3, .12, [D1] or the name of a phrase';
}
