import { HINT_KINDS, inlayHints as hintsOf } from '@tiptoe/notation-core/ide/inlay-hints';
import { InlayHintRefreshRequest, InlayHintRequest } from 'vscode-languageserver-protocol';
import type { Feature } from './feature.js';

/** Spots, pace and frames between the letters. Each kind is turned off by `tiptoe.hints`. */
export const inlayHints: Feature = {
  capabilities: () => ({ inlayHintProvider: true }),
  register(session) {
    session.about(InlayHintRequest.type, (view, { range }) => {
      const { hints } = session.projects.configurationOf(view.path);
      const kinds = new Set(HINT_KINDS.filter((kind) => hints[kind] !== false));
      const { start, end } = view.span(range);
      return hintsOf(view.analysis, view.path, start, end, kinds).map(
        ({ kind, offset, label, tooltip }) => ({
          position: view.position(offset),
          label,
          tooltip,
          // Pace stands in front of an item, the rest behind one.
          ...(kind === 'pace' ? { paddingRight: true } : { paddingLeft: true }),
        }),
      );
    });
    session.onElsewhere.push(() => {
      if (session.client.workspace?.inlayHint?.refreshSupport === true) {
        session.ask(InlayHintRefreshRequest.type);
      }
    });
  },
};
