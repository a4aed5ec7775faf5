import { framesOf } from '../model/count.js';
import type { Resolver } from '../model/resolve.js';
import type { Scope } from '../model/scope.js';
import type { Item } from '../syntax/tree.js';
import { compile, lengthOf } from './compile.js';
import { writeOut } from './log.js';
import { isWaiting, type Said, saidBy } from './token-steps.js';
import type { Tokens } from './tokens.js';

/** One item or chain of joined items, as it is written; equal text means equal items. */
interface Element {
  readonly text: string;
  /** Whether a repeat can stand behind it without brackets around it. */
  readonly isOne: boolean;
  readonly isWait: boolean;
}

/** The longest stretch that is looked for as a repeat, in elements. */
const LONGEST_PERIOD = 12;
/** Phrases of more items than this are not looked for. */
const LONGEST_PHRASE = 64;

/** Writes items in the notation, with the phrases of a scope where they apply, and repeats. */
export class Writer {
  private readonly pace: Said | undefined;
  private readonly letters: readonly string[];
  private phrases: { name: string; elements: readonly Element[] }[] | undefined;

  constructor(
    private readonly tokens: Tokens,
    private readonly scope: Scope,
    private readonly resolver: Resolver,
  ) {
    const { pace, clock, inputs } = scope.game;
    const frames = pace?.kind === 'wait' ? framesOf(pace.count, clock).lo : 0;
    this.pace =
      pace?.kind === 'settle'
        ? { kind: 'settle' }
        : frames > 0
          ? { kind: 'wait', frames }
          : undefined;
    this.letters = inputs.map(({ letter }) => letter);
  }

  /**
   * The items that tokens stand for, one text each. `startsPaused`: they begin behind a
   * bracket, which is written as it is in the log; the same for their end.
   */
  texts(ids: readonly number[], startsPaused = false, endsPaused = false): string[] {
    const { open, close } = this.tokens;
    const whole = [...(startsPaused ? [open] : []), ...ids, ...(endsPaused ? [close] : [])];
    const elements = this.elements(whole);
    // What touches an open bracket stands by itself, for whoever leaves the bracket away.
    const from = startsPaused ? 1 : 0;
    const to = Math.max(from, elements.length - (endsPaused ? 1 : 0));
    const inner = this.shorten(elements.slice(from, to));
    return [...elements.slice(0, from), ...inner, ...elements.slice(to)].map(({ text }) => text);
  }

  /** The same as one thing that a repeat can stand behind. */
  writeOne(ids: readonly number[]): string {
    const elements = this.shorten(this.elements(ids));
    const [only] = elements;
    if (elements.length === 1 && only?.isOne === true) return only.text;
    return `(${elements.map(({ text }) => text).join(' ')})`;
  }

  private elements(ids: readonly number[]): Element[] {
    const { tokens } = this;
    const elements: Element[] = [];
    let text = '';
    let parts = 0;
    let brackets = 0;
    const close = (): void => {
      if (parts > 0) elements.push({ text, isOne: parts === 1, isWait: false });
      text = '';
      parts = 0;
    };
    let paused = false;
    let fresh = true;
    ids.forEach((id, i) => {
      const said = saidBy(tokens, id);
      const isWait = said.kind === 'wait' || said.kind === 'settle';
      if (isWait && brackets === 0 && !paused) {
        close();
        fresh = true;
        const between = i > 0 && i + 1 < ids.length && !this.waitsBefore(ids, i) && !this.waitsBehind(ids, i); // prettier-ignore
        if (!this.isPace(said) || !between) {
          elements.push({ text: this.textOf(said), isOne: true, isWait: true });
        }
        return;
      }
      const ends = said.kind === 'end' || said.kind === 'close';
      if (!ends) {
        const apart = this.apart(ids, i, paused);
        if (!fresh) text += apart;
        if (brackets === 0 && !paused) parts++;
      }
      // A gap inside a hold that is the pace needs no more than a space.
      const atEdge = this.kind(ids[i - 1]) === 'hold' || this.kind(ids[i + 1]) === 'end';
      const isGap = isWait && !atEdge && !this.waitsBefore(ids, i) && !this.waitsBehind(ids, i);
      if (isGap && this.isPace(said)) {
        fresh = true;
        if (!text.endsWith(' ')) text += ' ';
        return;
      }
      text += this.textOf(said);
      fresh = said.kind === 'open' || said.kind === 'hold';
      if (said.kind === 'hold') brackets++;
      if (said.kind === 'end') brackets--;
      if (said.kind === 'open') paused = true;
      if (said.kind === 'close') paused = false;
    });
    close();
    return elements;
  }

  /** What stands in front of token i inside a chain. */
  private apart(ids: readonly number[], i: number, paused: boolean): string {
    if (paused) return ' ';
    // A wait at the edge of a hold parts items as one in the open does, without a sign.
    const waits = this.isWait(ids[i]) || (this.kind(ids[i]) === 'hold' && this.waitsBehind(ids, i));
    return waits || this.waitsBefore(ids, i) ? ' ' : '-';
  }

  private isWait(id: number | undefined): boolean {
    return isWaiting(this.tokens, id);
  }

  private kind(id: number | undefined): string {
    return id === undefined ? '' : saidBy(this.tokens, id).kind;
  }

  /** Whether a wait is as long as the pace, be it inside a hold. */
  private isPace(said: Said): boolean {
    return said.kind === this.pace?.kind && (said.kind !== 'wait' || this.pace.kind !== 'wait' || said.frames === this.pace.frames); // prettier-ignore
  }

  /** Whether the item in front of token i ends with a wait, be it inside a hold. */
  private waitsBefore(ids: readonly number[], i: number): boolean {
    let at = i - 1;
    while (this.kind(ids[at]) === 'end') at--;
    return this.isWait(ids[at]);
  }

  private waitsBehind(ids: readonly number[], i: number): boolean {
    let at = i + 1;
    while (this.kind(ids[at]) === 'hold') at++;
    return this.isWait(ids[at]);
  }

  private textOf(said: Said): string {
    switch (said.kind) {
      case 'press':
        return this.chord(said.held) + (said.frames === 1 ? '' : String(said.frames));
      case 'wait':
        return said.frames === 1 ? '.' : `.${said.frames}`;
      case 'settle':
        return '~';
      case 'open':
        return '[';
      case 'close':
        return ']';
      case 'end':
        return ')';
      case 'hold':
        return `${this.chord(said.held)}&(`;
      case 'window':
        return said.parts
          .map(({ held, frames }) => (held === 0 ? '.' : this.chord(held)) + String(frames))
          .join('-');
    }
  }

  private chord(held: number): string {
    return this.letters.filter((_, i) => (held & (1 << i)) !== 0).join('');
  }

  /** Phrases first, the longest first; then what comes several times in a row. */
  private shorten(elements: readonly Element[]): Element[] {
    let list = [...elements];
    for (const { name, elements: phrase } of this.allPhrases()) {
      const next: Element[] = [];
      for (let i = 0; i < list.length;) {
        if (matches(list, i, phrase)) {
          next.push({ text: name, isOne: true, isWait: false });
          i += phrase.length;
        } else {
          const element = list[i];
          if (element !== undefined) next.push(element);
          i++;
        }
      }
      list = next;
    }
    return repeats(list);
  }

  private allPhrases() {
    if (this.phrases === undefined) {
      this.phrases = [];
      for (const [name, { declaration, unit }] of this.scope.phrases) {
        if (!isPlain(declaration.body)) continue;
        const sequence = this.resolver.resolve(declaration.body, unit);
        const nodes = compile(sequence, this.tokens);
        if (lengthOf(nodes) > LONGEST_PHRASE) continue;
        const ids = writeOut(nodes, []);
        const elements = this.elements(ids);
        const worth = elements.length > 1 || ids.length > 1;
        const edged = this.isWait(ids[0]) || this.isWait(ids[ids.length - 1]);
        if (worth && !edged) this.phrases.push({ name, elements });
      }
      this.phrases.sort((a, b) => b.elements.length - a.elements.length);
    }
    return this.phrases;
  }
}

/** Whether a body means one thing only and says nothing but inputs. */
function isPlain(items: readonly Item[]): boolean {
  return items.every((item) => {
    if (item.marks.some(({ kind }) => kind === 'claim')) return false;
    if (item.repeat !== undefined && (item.repeat.open || item.repeat.lo !== item.repeat.hi)) {
      return false;
    }
    switch (item.kind) {
      case 'press':
      case 'wait':
        return item.count.lo === item.count.hi;
      case 'group':
      case 'hold':
      case 'pause':
        return isPlain(item.body);
      case 'settle':
        return true;
      // A phrase in a phrase could hold anything; its own items are matched instead.
      case 'phrase':
      case 'pace':
      case 'choose':
      case 'mark':
        return false;
    }
  });
}

function matches(list: readonly Element[], at: number, phrase: readonly Element[]): boolean {
  return phrase.length > 0 && phrase.every(({ text }, k) => list[at + k]?.text === text);
}

/** `U U U` as `U*3`, `R D R D` as `(R D)*2`; at each place what saves most. */
function repeats(list: readonly Element[]): Element[] {
  const out: Element[] = [];
  for (let i = 0; i < list.length;) {
    let best = { period: 0, times: 0, saved: 0 };
    for (let period = 1; period <= LONGEST_PERIOD && i + 2 * period <= list.length; period++) {
      let end = i + period;
      while (end < list.length && list[end]?.text === list[end - period]?.text) end++;
      const times = Math.floor((end - i) / period);
      const saved = (times - 1) * period - (period > 1 ? 1 : 0);
      if (times > 1 && saved > best.saved) best = { period, times, saved };
    }
    const { period, times } = best;
    const block = list.slice(i, i + Math.max(1, period));
    const [first] = block;
    if (first === undefined) break;
    if (times < 2 || (period === 1 && first.isWait)) {
      out.push(first);
      i++;
      continue;
    }
    const inner = period === 1 ? [first] : repeats(block);
    const text = inner.map((each) => each.text).join(' ');
    const plain = period === 1 && first.isOne;
    out.push({ text: plain ? `${text}*${times}` : `(${text})*${times}`, isOne: false, isWait: false }); // prettier-ignore
    i += period * times;
  }
  return out;
}
