import { type FixLevel, chosenEdits } from '../../rules/fixes.js';
import { applyEdits } from '../../text/edit.js';
import type { Finding } from '../../text/finding.js';
import { systemReason } from '../exit.js';
import { type ReadText, writeFileSafe } from '../io.js';
import { type CheckedNotes, type Request, checkNotes } from './notes.js';

/** Mending one finding can lay bare another; a note that is not done after this many rounds stays so. */
const ROUNDS = 10;

export interface Fixed {
  /** What is left, of the notes as they are now. */
  readonly checked: CheckedNotes;
  /** How many findings were mended. */
  readonly mended: number;
  /** The notes that changed. */
  readonly texts: ReadonlyMap<string, ReadText>;
}

/**
 * Mends what fixes of the given safety can mend, in memory, and checks again until nothing is left
 * to mend. `changes-timing` takes `safe` fixes as well; a suggestion is never taken.
 */
export function fixNotes(request: Request, first: CheckedNotes, level: FixLevel): Fixed {
  const texts = new Map<string, ReadText>();
  let checked = first;
  let mended = 0;
  for (let round = 0; round < ROUNDS; round++) {
    let any = false;
    for (const [path, findings] of byFile(checked)) {
      const source = checked.sources.get(path);
      if (source === undefined) continue;
      const { edits, count } = chosenEdits(source.text, findings, level);
      if (count === 0) continue;
      texts.set(path, { text: applyEdits(source.text, edits), bom: source.bom });
      mended += count;
      any = true;
    }
    if (!any) break;
    checked = checkNotes({ ...request, instead: new Map([...request.instead, ...texts]) });
  }
  return { checked, mended, texts };
}

function byFile({ findings }: CheckedNotes): Map<string, Finding[]> {
  const files = new Map<string, Finding[]>();
  for (const { finding } of findings) {
    const known = files.get(finding.file);
    if (known === undefined) files.set(finding.file, [finding]);
    else known.push(finding);
  }
  return files;
}

/** Writes mended notes back. Returns those that could not be written, with the reason. */
export function writeNotes(
  texts: ReadonlyMap<string, ReadText>,
): { readonly path: string; readonly reason: string }[] {
  const failed: { path: string; reason: string }[] = [];
  for (const [path, { text, bom }] of texts) {
    try {
      writeFileSafe(path, text, { replace: true, bom });
    } catch (error) {
      failed.push({ path, reason: `it cannot be written: ${systemReason(error)}` });
    }
  }
  return failed;
}
