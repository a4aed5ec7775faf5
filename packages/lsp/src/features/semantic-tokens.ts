import { TOKEN_KINDS, type TokenKind, tokensOf } from '@tiptoe/notation-core/ide/tokens';
import {
  type SemanticTokens,
  type SemanticTokensDelta,
  SemanticTokensDeltaRequest,
  SemanticTokensRangeRequest,
  SemanticTokensRequest,
} from 'vscode-languageserver-protocol';
import { type Span, tokenData } from '../token-data.js';
import type { View } from '../view.js';
import type { Steps } from '../work.js';
import type { Feature } from './feature.js';

/**
 * Standard types where one fits, so that every theme has a colour. Two of ours may share one;
 * what the protocol has no word for keeps ours.
 */
const TYPES: Readonly<Record<TokenKind, string>> = {
  comment: 'comment',
  docs: 'comment',
  silence: 'decorator',
  keyword: 'keyword',
  text: 'string',
  number: 'number',
  operator: 'operator',
  bracket: 'bracket',
  input: 'enumMember',
  spot: 'variable',
  phrase: 'function',
  route: 'class',
  ground: 'namespace',
  hands: 'struct',
  choice: 'enum',
  way: 'event',
  axis: 'parameter',
  button: 'parameter',
  setting: 'property',
};

const TOKEN_TYPES = [...new Set(Object.values(TYPES))];
const TOKEN_MODIFIERS = ['declaration', 'documentation'];
/** The type of each kind by its number. */
const TYPE_OF = TOKEN_KINDS.map((kind) => TOKEN_TYPES.indexOf(TYPES[kind]));
const DOCS = TOKEN_KINDS.indexOf('docs');

/** Results that are kept for deltas: of a document the last, of documents the last so many. */
const KEPT = 32;

export const semanticTokens: Feature = {
  capabilities: () => ({
    semanticTokensProvider: {
      legend: { tokenTypes: TOKEN_TYPES, tokenModifiers: TOKEN_MODIFIERS },
      full: { delta: true },
      range: true,
    },
  }),
  register(session) {
    const kept = new Map<string, { resultId: string; data: number[] }>();
    let count = 0;
    const keep = (path: string, data: number[]): string => {
      const resultId = String(++count);
      kept.delete(path);
      kept.set(path, { resultId, data });
      for (const oldest of kept.keys()) {
        if (kept.size <= KEPT) break;
        kept.delete(oldest);
      }
      return resultId;
    };

    session.about(SemanticTokensRequest.type, function* (view): Steps<SemanticTokens> {
      const data = yield* dataOf(view);
      return { resultId: keep(view.path, data), data };
    });

    session.about(SemanticTokensDeltaRequest.type, function* (view, { previousResultId }): Steps<
      SemanticTokens | SemanticTokensDelta
    > {
      const before = kept.get(view.path);
      const data = yield* dataOf(view);
      const resultId = keep(view.path, data);
      if (before?.resultId !== previousResultId) return { resultId, data };
      return { resultId, edits: difference(before.data, data) };
    });

    session.about(
      SemanticTokensRangeRequest.type,
      function* (view, { range }): Steps<SemanticTokens> {
        return { data: yield* dataOf(view, view.span(range)) };
      },
    );
  },
};

function dataOf(view: View, within?: Span): Steps<number[]> {
  return tokenData(view, within, tokensOf, (meaning) => {
    const kind = meaning >> 1;
    return [TYPE_OF[kind] ?? 0, (meaning & 1) | (kind === DOCS ? 2 : 0)];
  });
}

/** One edit: what is equal in front and behind stays. Counted in numbers, whole tokens at a time. */
function difference(from: readonly number[], to: readonly number[]): SemanticTokensDelta['edits'] {
  const most = Math.min(from.length, to.length);
  let start = 0;
  while (start < most && from[start] === to[start]) start++;
  start -= start % 5;
  let same = 0;
  while (same < most - start && from[from.length - 1 - same] === to[to.length - 1 - same]) same++;
  same -= same % 5;
  const deleteCount = from.length - same - start;
  const data = to.slice(start, to.length - same);
  if (deleteCount === 0 && data.length === 0) return [];
  return [{ start, deleteCount, ...(data.length === 0 ? {} : { data }) }];
}
