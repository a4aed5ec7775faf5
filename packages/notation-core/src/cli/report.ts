import { writeSync } from 'node:fs';
import { similarFile } from './files.js';
import { troubleLine } from './exit.js';

/** Tells of a file that could not be used, in one line on standard error; the work goes on. */
export function reportFile(path: string, reason: string): void {
  const near = reason === 'there is no such file' ? similarFile(path) : undefined;
  report(troubleLine(path, reason, near === undefined ? '' : `Did you mean ${near}?`));
}

/** One line on standard error. */
export function report(line: string): void {
  try {
    writeSync(2, `tiptoe: ${line}\n`);
  } catch {
    // Nobody listens; the exit code tells as well.
  }
}
