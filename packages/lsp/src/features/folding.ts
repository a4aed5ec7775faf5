import { folds } from '@tiptoe/notation-core/ide/folding';
import {
  type FoldingRange,
  FoldingRangeKind,
  FoldingRangeRequest,
} from 'vscode-languageserver-protocol';
import type { Steps } from '../work.js';
import type { Feature } from './feature.js';

const KINDS = { block: FoldingRangeKind.Region, comment: FoldingRangeKind.Comment, docs: FoldingRangeKind.Comment, uses: FoldingRangeKind.Imports } as const; // prettier-ignore

export const folding: Feature = {
  capabilities: () => ({ foldingRangeProvider: true }),
  register(session) {
    session.about(FoldingRangeRequest.type, function* (view): Steps<FoldingRange[]> {
      const can = session.client.textDocument?.foldingRange;
      const found = folds(view.analysis, view.path);
      yield;
      const made: FoldingRange[] = [];
      for (const { kind, start, end } of found.slice(0, can?.rangeLimit ?? found.length)) {
        const range = view.range({ start, end });
        const lines = { startLine: range.start.line, endLine: range.end.line };
        const { character: startCharacter } = range.start;
        const { character: endCharacter } = range.end;
        const kindOf = kind === 'block' ? {} : { kind: KINDS[kind] };
        if (can?.lineFoldingOnly === true) made.push({ ...lines, ...kindOf });
        else made.push({ ...lines, startCharacter, endCharacter, ...kindOf });
        yield;
      }
      return made;
    });
  },
};
