import { writeSync } from 'node:fs';
import type { Program } from '../../model/program.js';
import { checkProgram } from '../../rules/check.js';
import { describe } from '../../rules/registry.js';
import type { Unit } from '../../syntax/tree.js';
import type { Finding } from '../../text/finding.js';
import { LineIndex } from '../../text/lines.js';
import { SettingsFiles } from '../check/settings.js';
import { painter } from '../screen.js';
import { findingText } from '../show/text.js';

/** What a check has to say of the declarations of a program, used files included. */
export class UnitFindings {
  readonly #of = new Map<Unit, Finding[]>();

  constructor(
    readonly program: Program,
    maxSize: number,
  ) {
    const settings = new SettingsFiles(undefined, maxSize);
    const all = { ...program, entries: [...program.files.keys()] };
    const [config] = [...settings.groups(program.entries).keys()];
    for (const [path, findings] of checkProgram(all, settings.read(config)).files) {
      const units = program.files.get(path)?.tree.units ?? [];
      let at = 0;
      // Both are in the order of the file.
      for (const finding of findings) {
        while ((units[at + 1]?.start ?? Infinity) <= finding.span.start) at++;
        const unit = units[at]?.unit;
        if (unit === undefined) continue;
        const known = this.#of.get(unit);
        if (known === undefined) this.#of.set(unit, [finding]);
        else known.push(finding);
      }
    }
  }

  /** What is said of some declarations. */
  of(units: Iterable<Unit>): Finding[] {
    return [...units].flatMap((unit) => this.#of.get(unit) ?? []);
  }

  /** Prints findings on standard error, as `tiptoe check` shows them. */
  async print(findings: readonly Finding[], width: number): Promise<void> {
    const indexes = new Map<string, LineIndex>();
    const linesOf = (path: string): LineIndex | undefined => {
      const text = this.program.files.get(path)?.tree.text;
      if (text === undefined) return undefined;
      const known = indexes.get(path) ?? new LineIndex(text);
      indexes.set(path, known);
      return known;
    };
    const checked = { files: [], findings: [], unchecked: [], linesOf };
    for (const finding of findings) {
      const lines = linesOf(finding.file);
      if (lines === undefined) continue;
      const shown = { finding, message: describe(finding), lines };
      say(`${await findingText(shown, checked, { paint: painter(2), width })}\n`);
    }
  }
}

function say(text: string): void {
  try {
    writeSync(2, text);
  } catch {
    // Nobody listens; the exit code tells as well.
  }
}
