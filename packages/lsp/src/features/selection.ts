import { selection as selectionAt } from '@tiptoe/notation-core/ide/selection';
import { type SelectionRange, SelectionRangeRequest } from 'vscode-languageserver-protocol';
import type { Feature } from './feature.js';

/** From the word at each place outwards to the whole note. */
export const selection: Feature = {
  capabilities: () => ({ selectionRangeProvider: true }),
  register(session) {
    session.about(SelectionRangeRequest.type, (view, { positions }) =>
      positions.map((position) => {
        const offset = view.offset(position);
        const spans = selectionAt(view.analysis, view.path, offset);
        let around: SelectionRange | undefined;
        for (const span of [...spans].reverse()) {
          const range = view.range(span);
          around = around === undefined ? { range } : { range, parent: around };
        }
        return around ?? { range: { start: position, end: position } };
      }),
    );
  },
};
