import { hover as hoverAt } from '@tiptoe/notation-core/ide/hover';
import { HoverRequest, MarkupKind } from 'vscode-languageserver-protocol';
import type { Feature } from './feature.js';

export const hover: Feature = {
  capabilities: () => ({ hoverProvider: true }),
  register(session) {
    session.about(HoverRequest.type, (view, { position }) => {
      const found = hoverAt(view.analysis, view.path, view.offset(position));
      if (found === undefined) return null;
      const contents = { kind: MarkupKind.Markdown, value: found.text };
      return { contents, range: view.range(found.span) };
    });
  },
};
