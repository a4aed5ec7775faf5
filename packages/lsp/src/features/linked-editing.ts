import { linkedEditing as linkedAt } from '@tiptoe/notation-core/ide/linked-editing';
import { LinkedEditingRangeRequest } from 'vscode-languageserver-protocol';
import type { Feature } from './feature.js';

/** A spot's claims and its declaration, typed over together. */
export const linkedEditing: Feature = {
  capabilities: () => ({ linkedEditingRangeProvider: true }),
  register(session) {
    session.about(LinkedEditingRangeRequest.type, (view, { position }) => {
      const linked = linkedAt(view.analysis, view.path, view.offset(position));
      if (linked === undefined) return null;
      const { spans, wordPattern } = linked;
      return { ranges: spans.map((span) => view.range(span)), wordPattern };
    });
  },
};
