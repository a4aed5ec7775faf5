/** Invented notes of any size for the benchmarks; the same seed gives the same text. */
export type Random = () => number;

/** A small generator of numbers in [0, 1): an LCG with the constants of Numerical Recipes. */
export function random(seed: number): Random {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 4294967296;
  };
}

const SPOTS = ['reed', 'rush', 'tern', 'mud', 'snag', 'sedge', 'past', 'heron', 'weir', 'jetty'];
const PRESSES = ['D', 'U', 'L', 'R', 'DR', 'UL', 'J', 'S'];
const NOTES = ['tap until you sit on the last plank', 'slow', 'watch the satchel', 'let it swing'];

class Writer {
  private readonly next: Random;
  private phrases = 0;
  constructor(seed: number) {
    this.next = random(seed);
  }

  private below(n: number): number {
    return Math.floor(this.next() * n);
  }
  private one<T>(from: readonly T[]): T {
    return from[this.below(from.length)] as T;
  }
  private maybe(chance: number): boolean {
    return this.next() < chance;
  }
  spot(): string {
    return `@${this.one(SPOTS)}${this.maybe(0.3) ? this.below(40) : ''}`;
  }
  private press(): string {
    const r = this.next();
    const letters = this.one(PRESSES);
    if (r < 0.5) return letters;
    if (r < 0.9) return `${letters}${this.below(12)}`;
    return r < 0.96 ? `${letters}${2 + this.below(3)}..${6 + this.below(3)}` : `${letters}240ms`;
  }
  item(deep = 0): string {
    const r = this.next();
    if (r < 0.56) return this.press();
    if (r < 0.64) return `.${1 + this.below(30)}`;
    if (r < 0.7) return `${this.press()}-${this.press()}`;
    if (r < 0.78) return `[${this.press()}]`;
    if (r < 0.81) return `${this.press()}-[${this.press()}]-J`;
    if (r < 0.9) return `${this.press()}*${2 + this.below(8)}`;
    if (r < 0.92) return '~';
    if (r < 0.95 && this.phrases > 0) return `step${1 + this.below(this.phrases)}`;
    if (deep > 1) return 'R';
    const inner = `${this.item(deep + 1)} ${this.item(deep + 1)} ${this.item(deep + 1)}`;
    return this.maybe(0.3) ? `J&(.4 ${inner})` : `(${inner})*${2 + this.below(3)}`;
  }
  items(n: number): string {
    return Array.from({ length: n }, () => this.item()).join(' ');
  }
  row(): string {
    const count = this.maybe(0.9) ? ` x${1 + this.below(40)}` : '';
    return `${this.spot()} : ${this.items(1 + this.below(4))} -> ${this.spot()}${count}`;
  }
  private line(): string {
    const r = this.next();
    const items = this.items(2 + this.below(6));
    if (r < 0.4) return `${items} ${this.spot()}`;
    if (r < 0.6) return `${items} "${this.one(NOTES)}"`;
    if (r < 0.7) return `U*6+ until ${this.spot()} "${this.one(NOTES)}"`;
    return r < 0.75 ? `${items} # ${this.one(NOTES)}` : items;
  }
  let(): string {
    const text = `let step${this.phrases + 1} = ${this.items(3 + this.below(8))}\n`;
    this.phrases++;
    return text;
  }
  route(k: number): string {
    const from = this.maybe(0.5) ? 'anywhere' : `${this.spot()}, ${this.spot()}`;
    const lines = Array.from({ length: 4 + this.below(8) }, () => `  ${this.line()}\n`);
    const choose = this.maybe(0.3)
      ? `  choose finish {\n    lenient { ${this.items(4)} }\n    fast { ${this.items(3)} }\n  }\n`
      : '';
    const head = `route crossing${k} "Over the ${this.one(SPOTS)}" from ${from} to ${this.spot()}`;
    return `# ${this.one(NOTES)}\n${head} {\n${lines.join('')}${choose}  U20 @past\n}\n`;
  }
  seen(rows: number): string {
    return `seen {\n${Array.from({ length: rows }, () => `  ${this.row()}\n`).join('')}}\n`;
  }
}

/** A note of many declarations, of at least `size` characters. */
export function note(size: number, seed = 1): string {
  const write = new Writer(seed);
  const parts: string[] = [];
  let length = 0;
  for (let k = 0; length < size; k++) {
    const part = k % 4 === 0 ? write.let() : k % 4 === 3 ? write.seen(12) : write.route(k);
    parts.push(part, '\n');
    length += part.length + 1;
  }
  return parts.join('');
}

/** A note that is one `seen`, of so many rows. */
export function bigLog(rows: number, seed = 2): string {
  return new Writer(seed).seen(rows);
}

const FAULTS = ['4', ')', 'D&', '*', '?', 'Xy2z', '- -', '(', '[', '9..', '@', '"open'];

/** The same note with something wrong on every line that holds more than a brace. */
export function broken(text: string): string {
  let k = 0;
  return text
    .split('\n')
    .map((line) => (line.length > 3 ? `${line} ${FAULTS[k++ % FAULTS.length] ?? ''}` : line))
    .join('\n');
}
