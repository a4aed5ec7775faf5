import {
  type Call,
  type CallItem,
  incomingCalls,
  outgoingCalls,
  prepareCalls,
} from '@tiptoe/notation-core/ide/calls';
import {
  type CallHierarchyItem,
  CallHierarchyIncomingCallsRequest,
  CallHierarchyOutgoingCallsRequest,
  CallHierarchyPrepareRequest,
  SymbolKind,
} from 'vscode-languageserver-protocol';
import type { Session } from '../session.js';
import type { View } from '../view.js';
import type { Feature } from './feature.js';

const KINDS: Readonly<Record<CallItem['kind'], SymbolKind>> = {
  phrase: SymbolKind.Method,
  route: SymbolKind.Function,
  rescue: SymbolKind.Operator,
  seen: SymbolKind.Array,
  ground: SymbolKind.Namespace,
};

/** Which phrases and routes play which. */
export const calls: Feature = {
  capabilities: () => ({ callHierarchyProvider: true }),
  register(session) {
    session.about(CallHierarchyPrepareRequest.type, (view, { position }) => {
      const items = prepareCalls(view.analysis, view.path, view.offset(position));
      return items.flatMap((item) => itemOf(view, item) ?? []);
    });

    session.on(CallHierarchyIncomingCallsRequest.type, async ({ item }, token) => {
      await session.everyNote();
      const found = await callsOf(session, item, incomingCalls, token);
      return found === undefined
        ? null
        : found.map(({ call, view, to }) => ({
            from: to,
            fromRanges: call.from.flatMap((span) => view.rangeIn(call.item.path, span) ?? []),
          }));
    });

    session.on(CallHierarchyOutgoingCallsRequest.type, async ({ item }, token) => {
      const found = await callsOf(session, item, outgoingCalls, token);
      return found === undefined
        ? null
        : found.map(({ call, view, to }) => ({
            to,
            fromRanges: call.from.map((span) => view.range(span)),
          }));
    });
  },
};

/** The calls of an item that the client gives back, found again by its place. */
async function callsOf(
  session: Session,
  given: CallHierarchyItem,
  ask: (analysis: View['analysis'], item: CallItem) => Call[],
  token: { readonly isCancellationRequested: boolean },
): Promise<{ call: Call; view: View; to: CallHierarchyItem }[] | undefined> {
  const view = await session.view(given.uri, 'answer', token);
  if (view === undefined) return undefined;
  const at = view.span(given.selectionRange);
  const kind = (Object.keys(KINDS) as CallItem['kind'][]).find(
    (each) => KINDS[each] === given.kind,
  );
  const item = { ...view.span(given.range), path: view.path, kind: kind ?? 'phrase', name: given.name, at }; // prettier-ignore
  return ask(view.analysis, item).flatMap((call) => {
    const to = itemOf(view, call.item);
    return to === undefined ? [] : [{ call, view, to }];
  });
}

function itemOf(
  view: View,
  { path, kind, name, at, ...span }: CallItem,
): CallHierarchyItem | undefined {
  const range = view.rangeIn(path, span);
  const selectionRange = view.rangeIn(path, at);
  if (range === undefined || selectionRange === undefined) return undefined;
  return { name, kind: KINDS[kind], uri: view.session.uri(path), range, selectionRange };
}
