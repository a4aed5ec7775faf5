import { highlights as highlightsOf } from '@tiptoe/notation-core/ide/highlights';
import { DocumentHighlightKind, DocumentHighlightRequest } from 'vscode-languageserver-protocol';
import type { Feature } from './feature.js';

export const highlights: Feature = {
  capabilities: () => ({ documentHighlightProvider: true }),
  register(session) {
    session.about(DocumentHighlightRequest.type, (view, { position }) =>
      highlightsOf(view.analysis, view.path, view.offset(position)).map((span) => ({
        range: view.range(span),
        kind: span.declares ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
      })),
    );
  },
};
