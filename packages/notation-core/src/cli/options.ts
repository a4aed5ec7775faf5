import { MAX_SIZE } from './io.js';
import type { OutputOptions } from './output.js';

/** The options of a call, read by the name in their long flag: `--max-warnings` is `maxWarnings`. */
export class Options {
  constructor(readonly values: Readonly<Record<string, unknown>>) {}

  /** Whether a flag without a value was given. */
  flag(name: string): boolean {
    return this.values[name] === true;
  }

  text(name: string): string | undefined {
    const value = this.values[name];
    return typeof value === 'string' ? value : undefined;
  }

  whole(name: string): number | undefined {
    const value = this.values[name];
    return typeof value === 'number' ? value : undefined;
  }

  /** Each value of an option that may be given several times. */
  list(name: string): readonly string[] {
    const value = this.values[name];
    return Array.isArray(value) ? value.filter((each) => typeof each === 'string') : [];
  }

  /** `--max-size` in bytes. */
  get maxSize(): number {
    return this.whole('maxSize') ?? MAX_SIZE;
  }

  /** `--output` and `--force`. */
  get output(): OutputOptions {
    return { file: this.text('output'), force: this.flag('force') };
  }
}
