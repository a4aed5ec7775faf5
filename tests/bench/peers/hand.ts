import type * as Tree from '@core/syntax/tree.js';

/**
 * What can be reached without a parser library: scanner and recursive descent in one, for
 * correct notes of `let`, `seen` and `route` only. It builds the very tree that the product
 * builds (the benchmark compares them whole) and throws at the first mistake.
 */
export function parseByHand(text: string): Tree.Tree {
  return new HandParser(text).note();
}

type Growing<I> = { -readonly [K in keyof I]: I[K] };
type GrowingItem = Growing<Tree.PressItem> | Growing<Tree.PhraseItem> | Growing<Tree.GroupItem>;

const NO_MARKS: readonly Tree.Mark[] = [];
const BARE: Tree.Count = { lo: 1, hi: 1, unit: 'frames', written: false };
const SMALL: Tree.Count[] = Array.from({ length: 256 }, (_, n) => ({
  lo: n, hi: n, unit: 'frames', written: true,
})); // prettier-ignore

const isDigit = (c: number): boolean => c >= 48 && c <= 57;
const isUpper = (c: number): boolean => c >= 65 && c <= 90;
const isWord = (c: number): boolean =>
  (c >= 97 && c <= 122) || isDigit(c) || isUpper(c) || c === 95;

class HandParser {
  /** The offset of the next character, of the unit, and of the end of the last token. */
  private i = 0;
  private base = 0;
  private last = 0;
  private comments: Growing<Tree.Comment>[] = [];

  constructor(private readonly text: string) {}

  note(): Tree.Tree {
    const { text } = this;
    const units: Tree.Placed[] = [];
    this.blank();
    while (this.i < text.length) {
      const start = this.i - this.base;
      const word = this.word();
      const declaration =
        word === 'let'
          ? this.phrase(start)
          : word === 'seen'
            ? this.seen(start)
            : this.route(start);
      this.blank();
      // What stands on later lines belongs to the next unit.
      let end = text.length;
      if (this.i < text.length) {
        const line = text.indexOf('\n', this.base + this.last);
        end = line < 0 ? text.length : line + 1;
      }
      let own = this.comments.length;
      while (own > 0 && (this.comments[own - 1]?.start ?? 0) >= end - this.base) own--;
      const later = this.comments.slice(own);
      const comments = own === this.comments.length ? this.comments : this.comments.slice(0, own);
      units.push({
        start: this.base,
        unit: { text: text.slice(this.base, end), declaration, comments, problems: [] },
      });
      for (const comment of later) {
        comment.start += this.base - end;
        comment.end += this.base - end;
      }
      this.comments = later;
      this.base = end;
    }
    return { text, units };
  }

  private blank(): void {
    const { text } = this;
    for (;;) {
      const c = text.charCodeAt(this.i);
      if (c === 32 || c === 10 || c === 13 || c === 9) this.i++;
      else if (c === 35) {
        let end = text.indexOf('\n', this.i);
        if (end < 0) end = text.length;
        this.comments.push({ start: this.i - this.base, end: end - this.base });
        this.i = end;
      } else return;
    }
  }

  private fail(): never {
    throw new SyntaxError(`at ${this.i}: ${this.text.slice(this.i, this.i + 20)}`);
  }

  private word(): string {
    const start = this.i;
    while (isWord(this.text.charCodeAt(this.i))) this.i++;
    if (this.i === start) this.fail();
    this.last = this.i - this.base;
    return this.text.slice(start, this.i);
  }

  private sign(code: number): void {
    if (this.text.charCodeAt(this.i) !== code) this.fail();
    this.i++;
    this.last = this.i - this.base;
  }

  private name(): Tree.Name {
    const start = this.i - this.base;
    const name = this.word();
    return { name, start, end: this.last };
  }

  private spot(): Tree.Name {
    const start = this.i - this.base;
    this.sign(64);
    const name = this.word();
    return { name, start, end: this.last };
  }

  private string(): Tree.Text {
    const start = this.i;
    const end = this.text.indexOf('"', start + 1) + 1;
    if (end === 0) this.fail();
    this.i = end;
    this.last = end - this.base;
    return { value: this.text.slice(start + 1, end - 1), start: start - this.base, end: this.last };
  }

  private integer(): number {
    let value = 0;
    let c = this.text.charCodeAt(this.i);
    if (!isDigit(c)) this.fail();
    while (isDigit(c)) {
      value = value * 10 + c - 48;
      c = this.text.charCodeAt(++this.i);
    }
    return value;
  }

  private count(): Tree.Count {
    const { text } = this;
    if (!isDigit(text.charCodeAt(this.i))) return BARE;
    const lo = this.integer();
    if (text.charCodeAt(this.i) === 46 && text.charCodeAt(this.i + 1) === 46) {
      this.i += 2;
      return { lo, hi: this.integer(), unit: 'frames', written: true };
    }
    if (text.charCodeAt(this.i) === 109 && text.charCodeAt(this.i + 1) === 115) {
      this.i += 2;
      return { lo: lo * 1000, hi: lo * 1000, unit: 'microseconds', written: true };
    }
    return SMALL[lo] ?? { lo, hi: lo, unit: 'frames', written: true };
  }

  private phrase(start: number): Tree.Declaration {
    this.blank();
    const name = this.name();
    this.blank();
    this.sign(61);
    const body = this.items();
    return { kind: 'let', start, end: this.last, name, body };
  }

  private seen(start: number): Tree.Declaration {
    this.blank();
    this.sign(123);
    const rows: Tree.SeenRow[] = [];
    this.blank();
    while (this.text.charCodeAt(this.i) === 64) {
      rows.push(this.row());
      this.blank();
    }
    this.sign(125);
    return { kind: 'seen', start, end: this.last, rows };
  }

  private row(): Tree.SeenRow {
    const from = this.spot();
    this.blank();
    this.sign(58);
    const body = this.items();
    this.sign(45);
    this.sign(62);
    this.blank();
    const to = this.spot();
    let end = this.last;
    this.blank();
    let count = 1;
    const counted = this.text.charCodeAt(this.i) === 120;
    if (counted) {
      this.i++;
      count = this.integer();
      end = this.last = this.i - this.base;
    }
    return { from, body, to, count, counted, start: from.start, end };
  }

  private route(start: number): Tree.Declaration {
    this.blank();
    const name = this.name();
    let title: Tree.Text | undefined;
    let from: Tree.RouteDeclaration['from'];
    let to: Tree.Name | undefined;
    this.blank();
    if (this.text.charCodeAt(this.i) === 34) {
      title = this.string();
      this.blank();
    }
    while (this.text.charCodeAt(this.i) !== 123) {
      if (this.word() === 'from') {
        this.blank();
        if (this.text.charCodeAt(this.i) === 64) from = this.starts();
        else if (this.word() === 'anywhere') from = 'anywhere';
        else this.fail();
      } else {
        this.blank();
        to = this.spot();
      }
      this.blank();
    }
    this.i++;
    const body = this.items();
    this.sign(125);
    return { kind: 'route', start, end: this.last, name, title, from, to, body };
  }

  private starts(): Tree.StartSpot[] {
    const spots: Tree.StartSpot[] = [];
    while (this.text.charCodeAt(this.i) === 64) {
      const spot = this.spot();
      spots.push({ spot, weight: 1, end: spot.end });
      this.blank();
      if (this.text.charCodeAt(this.i) !== 44) break;
      this.i++;
      this.blank();
    }
    return spots;
  }

  /** Items with their marks, up to what cannot be part of any. */
  private items(): Tree.Item[] {
    const { text } = this;
    const body: Tree.Item[] = [];
    let join = -1;
    for (;;) {
      this.blank();
      const c = text.charCodeAt(this.i);
      const start = this.i - this.base;
      if (isUpper(c)) {
        const item = this.press(start, join);
        if (item === undefined) {
          const press = body.pop();
          if (press === undefined) this.fail();
        } else body.push(item);
        join = -1;
      } else if (c === 46) {
        this.i++;
        const count = this.count();
        const end = (this.last = this.i - this.base);
        body.push({ kind: 'wait', start, end, join, repeat: undefined, marks: NO_MARKS, count });
        join = -1;
      } else if (c === 45) {
        if (text.charCodeAt(this.i + 1) === 62) return body;
        join = start;
        this.i++;
      } else if (c === 91 || c === 40) {
        this.i++;
        const inner = this.items();
        const bodyEnd = this.i - this.base;
        this.sign(c === 91 ? 93 : 41);
        const bodyStart = start + 1;
        const kind = c === 91 ? 'pause' : 'group';
        body.push({
          kind, start, end: this.last, join, repeat: undefined, marks: NO_MARKS,
          body: inner, bodyStart, bodyEnd,
        }); // prettier-ignore
        join = -1;
      } else if (c === 42) this.repeat(body, start);
      else if (c === 126) {
        this.i++;
        const end = (this.last = start + 1);
        body.push({ kind: 'settle', start, end, join, repeat: undefined, marks: NO_MARKS });
        join = -1;
      } else if (c === 64) {
        if (this.beginsRow()) return body;
        const { name, end } = this.spot();
        mark(body, { kind: 'claim', name, start, end });
      } else if (c === 34) {
        const { value, end } = this.string();
        mark(body, { kind: 'note', value, start, end });
      } else if (c >= 97 && c <= 122) {
        const before = this.last;
        const name = this.word();
        if (name === 'choose') body.push(this.choose(start));
        else if (
          name === 'let' ||
          name === 'seen' ||
          name === 'route' ||
          text.charCodeAt(this.i) === 123
        ) {
          this.i = start + this.base;
          this.last = before;
          return body;
        } else {
          const end = this.last;
          body.push({
            kind: 'phrase', start, end, join, repeat: undefined, marks: NO_MARKS, name, nameEnd: end,
          }); // prettier-ignore
          join = -1;
        }
      } else return body;
    }
  }

  /** In a `seen`, a row without items ends where the next begins; correct notes have an arrow. */
  private beginsRow(): boolean {
    return false;
  }

  private press(start: number, join: number): Tree.Item | undefined {
    const { text } = this;
    const from = this.i;
    while (isUpper(text.charCodeAt(this.i))) this.i++;
    const inputs = text.slice(from, this.i);
    if (text.charCodeAt(this.i) === 38) {
      this.i++;
      this.sign(40);
      const bodyStart = this.last;
      const body = this.items();
      const bodyEnd = this.i - this.base;
      this.sign(41);
      return {
        kind: 'hold', start, end: this.last, join, repeat: undefined, marks: NO_MARKS,
        inputs, body, bodyStart, bodyEnd,
      }; // prettier-ignore
    }
    const count = this.count();
    const end = (this.last = this.i - this.base);
    return { kind: 'press', start, end, join, repeat: undefined, marks: NO_MARKS, inputs, count };
  }

  private repeat(body: Tree.Item[], start: number): void {
    const last = body[body.length - 1] as GrowingItem | undefined;
    if (last === undefined) this.fail();
    this.i++;
    const { lo, hi } = this.count();
    const open = this.text.charCodeAt(this.i) === 43;
    if (open) this.i++;
    let end = (this.last = this.i - this.base);
    let until: Tree.Name | undefined;
    if (this.text.startsWith(' until ', this.i)) {
      this.i += 7;
      until = this.spot();
      end = this.last;
    }
    last.repeat = { lo, hi: open ? lo : hi, open, until, start, end };
    last.end = end;
  }

  private choose(start: number): Tree.Item {
    this.blank();
    const name = this.name();
    this.blank();
    this.sign(123);
    const ways: Tree.Way[] = [];
    this.blank();
    while (this.text.charCodeAt(this.i) !== 125) {
      const way = this.name();
      this.blank();
      this.sign(123);
      const body = this.items();
      this.sign(125);
      ways.push({ name: way, body, start: way.start, end: this.last });
      this.blank();
    }
    this.sign(125);
    return {
      kind: 'choose', start, end: this.last, join: -1, repeat: undefined, marks: NO_MARKS,
      name, ways,
    }; // prettier-ignore
  }
}

function mark(body: Tree.Item[], one: Tree.Mark): void {
  const last = body[body.length - 1] as GrowingItem | undefined;
  if (last === undefined) throw new SyntaxError('a mark in front of all items');
  if (last.marks === NO_MARKS) last.marks = [one];
  else (last.marks as Tree.Mark[]).push(one);
}
