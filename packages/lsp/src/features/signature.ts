import { signature as signatureAt } from '@tiptoe/notation-core/ide/signature';
import { MarkupKind, SignatureHelpRequest } from 'vscode-languageserver-protocol';
import type { Feature } from './feature.js';

/** What a setting takes, while it is written. */
export const signature: Feature = {
  capabilities: () => ({
    signatureHelpProvider: { triggerCharacters: [' '], retriggerCharacters: [' '] },
  }),
  register(session) {
    session.about(SignatureHelpRequest.type, (view, { position }) => {
      const found = signatureAt(view.analysis, view.path, view.offset(position));
      if (found === undefined) return null;
      const can = session.client.textDocument?.signatureHelp?.signatureInformation;
      const offsets = can?.parameterInformation?.labelOffsetSupport === true;
      const { label, parts, active, what } = found;
      const parameters = parts.map(({ span, what: of }) => ({
        label: offsets ? ([span.start, span.end] as [number, number]) : label.slice(span.start, span.end), // prettier-ignore
        documentation: of,
      }));
      return {
        signatures: [
          { label, parameters, documentation: { kind: MarkupKind.Markdown, value: what } },
        ],
        activeSignature: 0,
        // Beyond the last one stands for none of them.
        activeParameter: active ?? parts.length,
      };
    });
  },
};
