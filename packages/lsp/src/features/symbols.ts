import {
  documentSymbols,
  type NoteSymbol,
  type SymbolKind as Kind,
} from '@tiptoe/notation-core/ide/symbols';
import { workspaceSymbols } from '@tiptoe/notation-core/ide/workspace-symbols';
import {
  type DocumentSymbol,
  DocumentSymbolRequest,
  type SymbolInformation,
  SymbolKind,
  WorkspaceSymbolRequest,
} from 'vscode-languageserver-protocol';
import { uniqueSpans } from '../spans.js';
import type { View } from '../view.js';
import type { Steps } from '../work.js';
import type { Feature } from './feature.js';

/** The protocol has no kinds of ours: these are the ones whose pictures fit. */
const KINDS: Readonly<Record<Kind, SymbolKind>> = {
  game: SymbolKind.Module,
  input: SymbolKind.Key,
  pause: SymbolKind.Event,
  cue: SymbolKind.String,
  hands: SymbolKind.Object,
  spot: SymbolKind.Constant,
  phrase: SymbolKind.Method,
  seen: SymbolKind.Array,
  ground: SymbolKind.Namespace,
  route: SymbolKind.Function,
  rescue: SymbolKind.Operator,
  choice: SymbolKind.Enum,
  way: SymbolKind.EnumMember,
};

/** The outline of a note, and the names of all notes. */
export const symbols: Feature = {
  capabilities: () => ({ documentSymbolProvider: true, workspaceSymbolProvider: true }),
  register(session) {
    session.about(DocumentSymbolRequest.type, function* (view): Steps<
      DocumentSymbol[] | SymbolInformation[]
    > {
      const outline = documentSymbols(view.analysis, view.path);
      yield;
      const can = session.client.textDocument?.documentSymbol?.hierarchicalDocumentSymbolSupport;
      const made: DocumentSymbol[] = [];
      const flat: SymbolInformation[] = [];
      for (const symbol of outline) {
        if (can === true) made.push(nested(view, symbol));
        else flat.push(...flattened(view, symbol, undefined));
        yield;
      }
      return can === true ? made : flat;
    });

    session.on(WorkspaceSymbolRequest.type, async ({ query }, token) => {
      await session.everyNote();
      await session.settle('answer', token);
      return session.finish(
        (function* () {
          const found = [];
          for (const { current } of session.projects.all) {
            if (current !== undefined) found.push(...workspaceSymbols(current, query));
            yield;
          }
          return uniqueSpans(found).flatMap((symbol) => {
            const location = session.locate(symbol);
            if (location === undefined) return [];
            const { name, within } = symbol;
            const around = within === '' ? {} : { containerName: within };
            return [{ name, kind: KINDS[symbol.kind], location, ...around }];
          });
        })(),
        token,
      );
    });
  },
};

function nested(view: View, symbol: NoteSymbol): DocumentSymbol {
  const { kind, name, detail, at, children } = symbol;
  return {
    name,
    kind: KINDS[kind],
    range: view.range(symbol),
    selectionRange: view.range(at),
    ...(detail === '' ? {} : { detail }),
    ...(children.length === 0 ? {} : { children: children.map((child) => nested(view, child)) }),
  };
}

function flattened(
  view: View,
  symbol: NoteSymbol,
  within: string | undefined,
): SymbolInformation[] {
  const { kind, name, children } = symbol;
  const own = {
    name,
    kind: KINDS[kind],
    location: { uri: view.session.uri(view.path), range: view.range(symbol) },
    ...(within === undefined ? {} : { containerName: within }),
  };
  return [own, ...children.flatMap((child) => flattened(view, child, name))];
}
