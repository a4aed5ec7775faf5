import type { SourceFile } from '../model/program.js';
import { isClosedString } from '../syntax/scanner.js';
import type { Placed } from '../syntax/tree.js';
import type { Span } from '../text/span.js';
import { type Analysis, unitAt } from './analysis.js';

/** The path of a `use`, without its quotes; `target` is the file that it leads to, if there is one. */
export interface Link extends Span {
  readonly target: string | undefined;
}

/** The paths of the `use` lines of a file, in the order of the text. */
export function links(analysis: Analysis, path: string): Link[] {
  const file = analysis.file(path);
  if (file === undefined) return [];
  const found: Link[] = [];
  for (const placed of file.tree.units) {
    const link = linkIn(file, placed);
    if (link !== undefined) found.push(link);
  }
  return found;
}

/** The path that holds an offset, or that ends there. */
export function linkAt(analysis: Analysis, path: string, offset: number): Link | undefined {
  const file = analysis.file(path);
  const placed = file === undefined ? undefined : unitAt(file, offset);
  if (file === undefined || placed === undefined) return undefined;
  const link = linkIn(file, placed);
  return link !== undefined && link.start <= offset && offset <= link.end ? link : undefined;
}

function linkIn(file: SourceFile, { start, unit }: Placed): Link | undefined {
  const { declaration, text } = unit;
  if (declaration.kind !== 'use' || declaration.path === undefined) return undefined;
  const { path } = declaration;
  const quote = isClosedString(text, path.start, path.end) ? 1 : 0;
  return {
    start: start + path.start + 1,
    end: start + path.end - quote,
    target: file.uses.find((use) => use.declaration === declaration)?.path,
  };
}
