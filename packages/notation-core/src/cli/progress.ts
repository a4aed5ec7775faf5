import { writeSync } from 'node:fs';
import { isTerminal } from './screen.js';

/** Work shorter than this, in milliseconds, says nothing. */
const PATIENCE = 1000;
/** Between two changes of the line. */
const PACE = 100;

/** One line on standard error for work that takes over a second, where a person watches. */
export class Progress {
  readonly #watched: boolean;
  #next = Date.now() + PATIENCE;
  #shown = false;

  constructor(readonly doing: string) {
    this.#watched = isTerminal(2);
  }

  /** Call it as often as you like; `of` is 0 where the end is not known. */
  at(done: number, of = 0): void {
    if (!this.#watched) return;
    const now = Date.now();
    if (now < this.#next) return;
    this.#next = now + PACE;
    const count = done.toLocaleString('en');
    const share = of > 0 ? `${Math.floor((done / of) * 100)} % (${count})` : count;
    this.#say(`\r\u001b[K${this.doing}: ${share}`);
    this.#shown = true;
  }

  /** Takes the line away. */
  end(): void {
    if (this.#shown) this.#say('\r\u001b[K');
    this.#shown = false;
  }

  #say(text: string): void {
    try {
      writeSync(2, text);
    } catch {
      // Nobody has to see it.
    }
  }
}
