import { links as linksOf } from '@tiptoe/notation-core/ide/links';
import { DocumentLinkRequest } from 'vscode-languageserver-protocol';
import type { Feature } from './feature.js';

/** The paths of `use` lines, each to its file. */
export const links: Feature = {
  capabilities: () => ({ documentLinkProvider: { resolveProvider: false } }),
  register(session) {
    session.about(DocumentLinkRequest.type, (view) =>
      linksOf(view.analysis, view.path).flatMap(({ target, ...span }) =>
        target === undefined || view.analysis.file(target) === undefined
          ? []
          : [{ range: view.range(span), target: session.uri(target) }],
      ),
    );
  },
};
