import type { ExitCode } from '../exit.js';

export type Format = 'text' | 'json' | 'sarif' | 'github';

/** What a check came to, and the files that it read. */
export interface Outcome {
  readonly code: ExitCode;
  readonly read: readonly string[];
}
