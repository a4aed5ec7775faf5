import { codeLenses, lensFacts } from '@tiptoe/notation-core/ide/code-lens';
import {
  CodeLensRefreshRequest,
  CodeLensRequest,
  CodeLensResolveRequest,
} from 'vscode-languageserver-protocol';
import type { Feature } from './feature.js';

/** Ticks, frames, seconds and findings above each route; worked out for those on the screen. */
export const codeLens: Feature = {
  capabilities: () => ({ codeLensProvider: { resolveProvider: true } }),
  register(session) {
    session.about(CodeLensRequest.type, (view, { textDocument: { uri } }) =>
      codeLenses(view.analysis, view.path).map(({ span }) => ({
        range: view.range(span),
        data: { uri },
      })),
    );
    session.on(CodeLensResolveRequest.type, async (lens, token) => {
      const { uri } = (lens.data ?? {}) as { uri?: string };
      const view = uri === undefined ? undefined : await session.view(uri, 'answer', token);
      const facts = view && lensFacts(view.analysis, view.path, view.offset(lens.range.start));
      // No command to run: the words are what is wanted.
      return { ...lens, command: { title: facts?.title ?? '', command: '' } };
    });
    session.onElsewhere.push(() => {
      if (session.client.workspace?.codeLens?.refreshSupport === true) {
        session.ask(CodeLensRefreshRequest.type);
      }
    });
  },
};
