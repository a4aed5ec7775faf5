import {
  type Completion,
  completion as completionAt,
  completionDocs,
  type CompletionKind,
} from '@tiptoe/notation-core/ide/completion';
import {
  type CompletionItem,
  CompletionItemKind,
  CompletionRequest,
  CompletionResolveRequest,
  InsertTextFormat,
  MarkupKind,
} from 'vscode-languageserver-protocol';
import { pathOf } from '../uris.js';
import type { View } from '../view.js';
import type { Feature } from './feature.js';

const KINDS: Readonly<Record<CompletionKind, CompletionItemKind>> = {
  input: CompletionItemKind.EnumMember,
  move: CompletionItemKind.Event,
  phrase: CompletionItemKind.Method,
  spot: CompletionItemKind.Constant,
  route: CompletionItemKind.Function,
  rule: CompletionItemKind.Reference,
  word: CompletionItemKind.Keyword,
  setting: CompletionItemKind.Property,
  path: CompletionItemKind.File,
  form: CompletionItemKind.Snippet,
  value: CompletionItemKind.Value,
};

/** What an item is resolved by. */
interface Data {
  readonly uri: string;
  readonly kind: CompletionKind;
  readonly name: string;
}

/** What can stand at a place, the likeliest first. */
export const completion: Feature = {
  capabilities: () => ({
    completionProvider: {
      resolveProvider: true,
      triggerCharacters: ['@', '"', '/', '[', '{', ' ', '-', ':'],
    },
  }),
  register(session) {
    session.about(CompletionRequest.type, (view, { position, textDocument: { uri } }) => {
      const options = { paths: [...session.projects.notes] };
      const { items, incomplete } = completionAt(view.analysis, view.path, view.offset(position), options); // prettier-ignore
      const snippets = session.client.textDocument?.completion?.completionItem?.snippetSupport === true; // prettier-ignore
      const fit = items.filter(({ snippet }) => snippets || !snippet);
      return {
        isIncomplete: incomplete,
        items: fit.map((item, rank) => itemOf(view, item, rank, uri)),
      };
    });

    session.on(CompletionResolveRequest.type, async (item, token) => {
      const data = item.data as Data | undefined;
      if (data === undefined) return item;
      const view = await session.view(data.uri, 'answer', token);
      if (view === undefined) return item;
      const value = completionDocs(view.analysis, pathOf(data.uri), data);
      return value === '' ? item : { ...item, documentation: { kind: MarkupKind.Markdown, value } };
    });
  },
};

function itemOf(view: View, completion: Completion, rank: number, uri: string): CompletionItem {
  const { label, kind, detail, insert, snippet, span, name } = completion;
  const data: Data = { uri, kind, name };
  return {
    label,
    kind: KINDS[kind],
    // The order is ours: clients sort by this text.
    sortText: String(rank).padStart(4, '0'),
    textEdit: { range: view.range(span), newText: insert },
    insertTextFormat: snippet ? InsertTextFormat.Snippet : InsertTextFormat.PlainText,
    ...(detail === '' ? {} : { detail }),
    data,
  };
}
