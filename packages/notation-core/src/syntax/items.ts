import type { IToken } from 'chevrotain';
import { LIMITS } from '../text/limits.js';
import type { SyntaxCode, SyntaxProblems } from './problems.js';
import { isClosedString, ONE, type ScannedToken } from './scanner.js';
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
const NO_ITEMS: GrowingItem[] = [];

type Base = 'block' | 'phrase' | 'row' | 'move';
type FrameKind = 'group' | 'pause' | 'hold' | 'choose' | 'way' | 'stray';

/** An open bracket: what it began, and the sequence around it to go on with. */
interface Frame {
  readonly kind: FrameKind;
  readonly start: number;
  readonly bodyStart: number;
  readonly inputs: string;
  readonly join: number;
  readonly outer: GrowingItem[];
  readonly name: Tree.Name | undefined;
  readonly ways: Tree.Way[];
}

/**
 * Builds the items of a sequence from its tokens, with a stack of open brackets instead of
 * recursion. Every token is taken; what does not fit becomes a problem, never an exception.
 */
export class ItemsBuilder {
  text = '';
  problems: Tree.Problem[] = [];
  private base: Base = 'phrase';
  private body: GrowingItem[] = NO_ITEMS;
  private frames: Frame[] = [];
  /** Open `choose`, way and stray braces among `frames`. */
  private braces = 0;
  private open = true;
  private join = -1;
  private skippedDepth = 0;
  private holdPress: ScannedToken | undefined;
  private holdJoin = -1;
  private pendingChoose: { start: number; name: Tree.Name | undefined } | undefined;
  private pendingWay: ScannedToken | undefined;
  private blockOpen: ScannedToken | undefined;
  private blockWhat = '';

  reset(text: string): void {
    this.text = text;
    this.problems = [];
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

  private begin(base: Base): void {
    this.base = base;
    this.body = [];
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

  /** Whether the sequence goes on with this token (and the one after it). */
  more(token: IToken, next: IToken): boolean {
    if (this.base === 'block') return this.open;
    if (this.base === 'phrase') return true;
    const type = token.tokenTypeIdx;
    if (type === T.RightBrace.tokenTypeIdx) return this.braces > 0;
    if (this.base === 'move') return type !== T.By.tokenTypeIdx;
    // A spot with a colon begins the next row, whatever this one lacks.
    if (type === T.Spot.tokenTypeIdx) return next.tokenTypeIdx !== T.Colon.tokenTypeIdx;
    return type !== T.Arrow.tokenTypeIdx && type !== T.Sightings.tokenTypeIdx;
  }

  /** The items, once no more tokens belong to them; `end` is where the last one ended. */
  finish(end: number): Tree.Item[] {
    while (this.frames.length > 0) this.abandon(end);
    this.settlePending(end);
    if (this.base === 'block' && this.open && this.blockOpen !== undefined) {
      const at = this.blockOpen;
      this.report('unclosed-block', at.startOffset, at.end, { what: this.blockWhat });
    }
    const body = this.body;
    this.body = NO_ITEMS;
    return body;
  }

  press(token: ScannedToken): void {
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

  wait(token: ScannedToken): void {
    this.add(this.makeWait(token, this.takeJoin()));
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

  settle(token: ScannedToken): void {
    this.add(this.makeSettle(token, this.takeJoin()));
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

  pace(word: ScannedToken, value: ScannedToken | undefined): void {
    if (value === undefined) {
      this.report('something-missing', word.end, word.end, {
        what: 'a wait such as .2, or ~',
        after: 'pace',
      });
    }
    this.dropJoin('after');
    this.add({
      kind: 'pace',
      start: word.startOffset,
      end: value?.end ?? word.end,
      join: -1,
      repeat: undefined,
      marks: NO_MARKS,
      pace: value === undefined ? undefined : this.paceValue(value),
    });
  }

  /** A name: a phrase, or in `choose` a way, when a brace follows. */
  word(token: ScannedToken, next: IToken): void {
    const top = this.frames[this.frames.length - 1];
    if (top?.kind === 'choose' && next.tokenTypeIdx === T.LeftBrace.tokenTypeIdx) {
      this.pendingWay = token;
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

  joined(token: ScannedToken): void {
    if (this.join >= 0 || this.body.length === 0) {
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
    const top = this.frames[this.frames.length - 1];
    if (top?.kind === 'choose') {
      const written = this.text.slice(item.start, item.end);
      this.report('outside-ways', item.start, item.end, { written });
      return;
    }
    this.body.push(item);
  }

  repeat(token: ScannedToken): void {
    const last = this.body[this.body.length - 1];
    const { lo, hi } = token.count;
    this.checkCount(token);
    const unfit =
      last === undefined || last.kind === 'pace' || last.kind === 'choose' || last.kind === 'mark';
    if (unfit || last.repeat !== undefined || last.marks.length > 0 || this.join >= 0) {
      const written = this.text.slice(token.startOffset, token.end);
      const twice = last?.repeat !== undefined && last.marks.length === 0 && this.join < 0;
      this.report('repeat-alone', token.startOffset, token.end, { written, twice });
      return;
    }
    last.repeat = {
      lo,
      hi: token.image === '+' ? lo : hi,
      open: token.image === '+',
      until: undefined,
      start: token.startOffset,
      end: token.end,
    };
    last.end = token.end;
  }

  until(word: ScannedToken, spot: ScannedToken | undefined): void {
    if (spot === undefined) {
      this.report('something-missing', word.end, word.end, {
        what: 'the spot to be seen, such as @reed',
        after: 'until',
      });
    }
    const end = spot?.end ?? word.end;
    const last = this.body[this.body.length - 1];
    if (last?.repeat === undefined || last.marks.length > 0 || last.repeat.until !== undefined) {
      this.report('until-alone', word.startOffset, end, { written: 'until' });
      return;
    }
    const until =
      spot === undefined ? undefined : { name: spot.image, start: spot.startOffset, end: spot.end };
    last.repeat = { ...last.repeat, until, end };
    last.end = end;
  }

  claim(token: ScannedToken): void {
    this.mark({
      kind: 'claim',
      name: token.image,
      start: token.startOffset,
      end: token.end,
    });
  }

  note(token: ScannedToken): void {
    this.checkString(token);
    this.mark({ kind: 'note', value: token.image, start: token.startOffset, end: token.end });
  }

  private mark(mark: Tree.Mark): void {
    const last = this.body[this.body.length - 1];
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

  openGroup(token: ScannedToken): void {
    const press = this.holdPress;
    if (press !== undefined) {
      this.holdPress = undefined;
      this.push('hold', token, press.startOffset, press.image, this.holdJoin);
    } else this.push('group', token, token.startOffset, '', this.takeJoin());
  }

  openPause(token: ScannedToken): void {
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
    const top = this.frames[this.frames.length - 1];
    if (top?.kind === 'choose' && kind !== 'way') {
      const written = this.text.slice(token.startOffset, token.end);
      this.report('outside-ways', token.startOffset, token.end, { written });
    }
    const outer = this.body;
    this.frames.push({ kind, start, bodyStart: token.end, inputs, join, outer, name, ways: [] });
    this.body = kind === 'stray' ? outer : [];
    if (kind === 'choose' || kind === 'way' || kind === 'stray') this.braces++;
  }

  closeGroup(token: ScannedToken): void {
    this.close(token, (kind) => kind === 'group' || kind === 'hold');
  }

  closePause(token: ScannedToken): void {
    this.close(token, (kind) => kind === 'pause');
  }

  openBrace(token: ScannedToken): void {
    if (this.pendingChoose !== undefined) {
      const { start, name } = this.pendingChoose;
      this.pendingChoose = undefined;
      this.push('choose', token, start, '', -1, name);
      return;
    }
    const way = this.pendingWay;
    this.pendingWay = undefined;
    if (way !== undefined) {
      const name = { name: way.image, start: way.startOffset, end: way.end };
      this.push('way', token, way.startOffset, '', -1, name);
      return;
    }
    this.report('stray-text', token.startOffset, token.end, {
      written: '{',
      instead: 'an item, or } to end the block',
    });
    this.push('stray', token, token.startOffset, '', -1);
  }

  closeBrace(token: ScannedToken): void {
    if (this.braces > 0 || this.skippedDepth > 0) {
      this.close(token, (kind) => kind === 'choose' || kind === 'way' || kind === 'stray');
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

  private close(token: ScannedToken, fits: (kind: FrameKind) => boolean): void {
    if (this.skippedDepth > 0) {
      this.skippedDepth--;
      return;
    }
    if (this.holdPress !== undefined) this.settlePending(token.startOffset);
    let depth = this.frames.length - 1;
    for (; depth >= 0; depth--) {
      const frame = this.frames[depth];
      if (frame === undefined || fits(frame.kind)) break;
      // A bracket does not reach across the brace of a way.
      if (frame.kind === 'choose' || frame.kind === 'way') {
        if (token.tokenType !== T.RightBrace) depth = -1;
        break;
      }
    }
    if (depth < 0) {
      const written = this.text.slice(token.startOffset, token.end);
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
    const body = this.body as Tree.Item[];
    this.body = outer;
    if (kind === 'stray') return;
    if (kind === 'way') {
      const parent = this.frames[this.frames.length - 1];
      if (name !== undefined && parent?.kind === 'choose') {
        parent.ways.push({ name, body, start, end });
      }
      return;
    }
    const common = { start, end, join, repeat: undefined, marks: NO_MARKS };
    if (kind === 'choose') {
      if (ways.length === 0) {
        this.report('something-missing', bodyEnd, bodyEnd, {
          what: 'a way such as "fast { U*8 }"',
          after: 'choose',
        });
      }
      this.body.push({ kind, ...common, name, ways });
    } else if (kind === 'hold') {
      this.body.push({ kind, ...common, inputs, body, bodyStart, bodyEnd });
    } else {
      this.body.push({ kind, ...common, body, bodyStart, bodyEnd });
    }
  }

  choose(word: ScannedToken, name: ScannedToken | undefined, next: IToken): void {
    this.dropJoin('after');
    if (name === undefined) {
      this.report('something-missing', word.end, word.end, {
        what: 'the name of the choice',
        after: 'choose',
      });
    }
    const end = name?.end ?? word.end;
    if (next.tokenTypeIdx !== T.LeftBrace.tokenTypeIdx) {
      this.report('something-missing', end, end, { what: '{ and the ways', after: 'choose' });
      return;
    }
    const at =
      name === undefined ? undefined : { name: name.image, start: name.startOffset, end: name.end };
    this.pendingChoose = { start: word.startOffset, name: at };
  }

  /** `&` behind a press; the group must follow. */
  amp(token: ScannedToken, next: IToken): void {
    const last = this.body[this.body.length - 1];
    const fits = last?.kind === 'press' && last.repeat === undefined && last.marks.length === 0;
    const inputs = fits ? last.inputs : 'D';
    if (!fits || last.count.written || next.tokenTypeIdx !== T.LeftParen.tokenTypeIdx) {
      const start = fits ? last.start : token.startOffset;
      const written = this.text.slice(start, token.end);
      this.report('hold-form', start, token.end, { written, inputs });
      if (!fits || next.tokenTypeIdx !== T.LeftParen.tokenTypeIdx) return;
    }
    this.body.pop();
    this.holdJoin = last.join;
    this.holdPress = {
      ...token,
      image: last.inputs,
      startOffset: last.start,
      end: token.end,
      count: ONE,
    };
  }

  private settlePending(end: number): void {
    this.holdPress = undefined;
    if (this.join >= 0 && end >= this.join) this.dropJoin('after');
  }

  /** A token that is no item: a number, a sign, a word of another declaration. */
  stray(token: ScannedToken): void {
    const { startOffset: start, end } = token;
    const written = this.text.slice(start, end);
    if (token.tokenType === T.Quantity) {
      const last = this.body[this.body.length - 1];
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
    const written = this.text.slice(start, Math.min(end, start + 40));
    this.report('stray-text', start, end, { written, instead });
  }

  textOf(token: ScannedToken): Tree.Text {
    this.checkString(token);
    return { value: token.image, start: token.startOffset, end: token.end };
  }

  private checkString(token: ScannedToken): void {
    if (!isClosedString(this.text, token.startOffset, token.end)) {
      this.report('unclosed-text', token.startOffset, token.end, {});
    }
  }

  sightings(token: ScannedToken): number {
    const count = Number(token.image.slice(1));
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
      written: this.text.slice(token.startOffset, Math.min(token.end, token.startOffset + 40)),
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
