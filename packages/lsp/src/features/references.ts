import { type Reference, references as referencesOf } from '@tiptoe/notation-core/ide/references';
import { ReferencesRequest } from 'vscode-languageserver-protocol';
import { uniqueSpans } from '../spans.js';
import { pathOf } from '../uris.js';
import type { Feature } from './feature.js';

/** Every place that names the same, in all files of the workspace. */
export const references: Feature = {
  capabilities: () => ({ referencesProvider: true }),
  register(session) {
    session.on(ReferencesRequest.type, async ({ textDocument, position, context }, token) => {
      await session.everyNote();
      const view = await session.view(textDocument.uri, 'answer', token);
      if (view === undefined) return null;
      const offset = view.offset(position);
      const path = pathOf(textDocument.uri);
      return session.finish(
        (function* () {
          const found: Reference[] = [];
          for (const analysis of session.analysesWith(path)) {
            found.push(...referencesOf(analysis, path, offset, context.includeDeclaration));
            yield;
          }
          return uniqueSpans(found).flatMap((span) => session.locate(span) ?? []);
        })(),
        token,
      );
    });
  },
};
