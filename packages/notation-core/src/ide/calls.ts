import type { Placed } from '../syntax/tree.js';
import type { Span } from '../text/span.js';
import { type Analysis, type FileSpan, unitAt } from './analysis.js';
import { definition } from './definition.js';
import { mentionAt, mentionsOf } from './names.js';
import { occurrencesOf } from './occurrences.js';

/** A declaration that plays phrases, or that is played: a log and a ground only use them. */
export interface CallItem extends FileSpan {
  readonly kind: 'phrase' | 'route' | 'rescue' | 'seen' | 'ground';
  readonly name: string;
  /** Where its name stands, or its first word where it has none. */
  readonly at: Span;
}

/** A use: who uses or is used, and where the names stand, in the file of the one that uses. */
export interface Call {
  readonly item: CallItem;
  readonly from: readonly Span[];
}

/** The phrase or route under the cursor, where it is declared. */
export function prepareCalls(analysis: Analysis, path: string, offset: number): CallItem[] {
  const mention = mentionAt(analysis, path, offset);
  if (mention?.kind !== 'phrase' && mention?.kind !== 'route') return [];
  const { targets = [] } = definition(analysis, path, offset) ?? {};
  return targets.flatMap((target) => itemAt(analysis, target.path, target.start) ?? []);
}

/** Who plays a phrase, and the rescues that lead back into a route. */
export function incomingCalls(analysis: Analysis, item: CallItem): Call[] {
  if (item.kind !== 'phrase' && item.kind !== 'route') return [];
  const mention = mentionAt(analysis, item.path, item.at.start);
  if (mention === undefined || mention.kind !== item.kind) return [];
  const uses = mentionsOf(analysis, mention).filter(({ declares }) => !declares);
  const calls = new Map<string, { item: CallItem; from: Span[] }>();
  for (const { path, start, end, placed } of uses) {
    const key = `${placed.start} ${path}`;
    let call = calls.get(key);
    if (call === undefined) {
      const caller = itemOf(path, placed);
      if (caller === undefined) continue;
      calls.set(key, (call = { item: caller, from: [] }));
    }
    call.from.push({ start, end });
  }
  return [...calls.values()];
}

/** The phrases that a declaration plays, and the route that a rescue leads back into. */
export function outgoingCalls(analysis: Analysis, item: CallItem): Call[] {
  const file = analysis.file(item.path);
  const placed = file === undefined ? undefined : unitAt(file, item.at.start);
  if (file === undefined || placed === undefined) return [];
  const scope = analysis.scope(file);
  const calls = new Map<string, { items: CallItem[]; from: Span[] }>();
  for (const { kind, name, start, end, declares } of occurrencesOf(placed.unit)) {
    if (declares || (kind !== 'phrase' && kind !== 'route')) continue;
    const from = { start: placed.start + start, end: placed.start + end };
    let call = calls.get(`${kind} ${name}`);
    if (call === undefined) {
      const declared = (kind === 'phrase' ? scope.phrases : scope.routes).get(name);
      const place = declared === undefined ? undefined : analysis.place(declared.unit);
      const known =
        declared === undefined || place === undefined
          ? undefined
          : itemOf(place.file.path, { start: place.start, unit: declared.unit });
      // What is not in sight may be where the file is used.
      const items = known === undefined ? prepareCalls(analysis, item.path, from.start) : [known];
      calls.set(`${kind} ${name}`, (call = { items, from: [] }));
    }
    call.from.push(from);
  }
  return [...calls.values()].flatMap(({ items, from }) => items.map((to) => ({ item: to, from })));
}

function itemAt(analysis: Analysis, path: string, offset: number): CallItem | undefined {
  const file = analysis.file(path);
  const placed = file === undefined ? undefined : unitAt(file, offset);
  return placed === undefined ? undefined : itemOf(path, placed);
}

function itemOf(path: string, { start, unit }: Placed): CallItem | undefined {
  const { declaration, text } = unit;
  const { kind } = declaration;
  if (kind !== 'let' && kind !== 'route' && kind !== 'rescue' && kind !== 'seen' && kind !== 'ground') {
    return undefined;
  } // prettier-ignore
  const own = kind === 'seen' ? undefined : kind === 'rescue' ? declaration.spot : declaration.name;
  const at = own ?? { start: declaration.start, end: declaration.start + kind.length };
  const in_ = kind === 'rescue' && declaration.route !== undefined ? ` in ${declaration.route.name}` : ''; // prettier-ignore
  return {
    path,
    kind: kind === 'let' ? 'phrase' : kind,
    name: `${text.slice(at.start, at.end)}${in_}`,
    start: start + declaration.start,
    end: start + declaration.end,
    at: { start: start + at.start, end: start + at.end },
  };
}
