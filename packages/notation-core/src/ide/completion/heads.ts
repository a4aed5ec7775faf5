import type { RouteDeclaration } from '../../syntax/tree.js';
import type { ScannedToken } from '../../syntax/scanner.js';
import * as T from '../../syntax/tokens.js';
import type { Point } from '../items-at.js';
import { DECLARATIONS, WORDS } from '../settings-words.js';
import { offerSpots } from './spots.js';
import type { Offer } from './types.js';
import type { Typed } from './typed.js';

/** What can stand in the head of a declaration, in front of its block or behind it. */

const NOWHERE = { spots: [], unknown: true };

export function offerDeclarations(offer: Offer): void {
  DECLARATIONS.forEach(({ word, what, snippet }, i) => {
    offer({
      label: word,
      kind: 'word',
      rank: i / 100,
      detail: what,
      insert: snippet,
      snippet: true,
    });
  });
}

export function offerHead(point: Point, { tokens }: Typed, offer: Offer): void {
  const has = (type: ScannedToken['tokenType']): boolean =>
    tokens.some((each) => each.tokenType === type);
  const last = tokens[tokens.length - 1]?.tokenType;
  switch (tokens[0]?.tokenType) {
    case T.SpotWord:
      if (last === T.SpotWord) {
        for (const name of point.scope.logged) {
          if (point.scope.spots.has(name)) continue;
          offer({ label: `@${name}`, kind: 'spot', rank: 0, detail: 'in the log', name });
        }
        return;
      }
      if (!has(T.Paused) && !has(T.At)) offerWord('paused', offer);
      if (!has(T.At)) offerWord('at', offer);
      return;
    case T.Route:
      routeHead(point, has, last, offer);
      return;
    case T.Rescue:
      rescueHead(point, has, last, offer);
      return;
    case T.Ground:
      if (last === T.Ground) return;
      if (!has(T.Within)) offerWord('within', offer);
      else if (!has(T.To)) offerWord('to', offer);
      return;
    default:
      return;
  }
}

type Has = (type: ScannedToken['tokenType']) => boolean;
type Last = ScannedToken['tokenType'] | undefined;

function routeHead(point: Point, has: Has, last: Last, offer: Offer): void {
  if (last === T.Route) return;
  if (last === T.From) {
    offerWord('anywhere', offer);
    offerSpots(point, NOWHERE, offer);
    return;
  }
  if (last === T.To) {
    offerSpots(point, NOWHERE, offer);
    return;
  }
  if (!has(T.From)) offerWord('from', offer);
  if (!has(T.To)) offerWord('to', offer);
  // More than one spot can follow `from`.
  if (has(T.From) && !has(T.To) && !has(T.Anywhere)) offerSpots(point, NOWHERE, offer);
}

function rescueHead(point: Point, has: Has, last: Last, offer: Offer): void {
  const { scope } = point;
  if (last === T.Rescue) {
    offerSpots(point, NOWHERE, offer);
    return;
  }
  if (last === T.In) {
    for (const [name, { declaration }] of scope.routes) {
      const rank = declaration.from === undefined ? 1 : 0;
      offer({ label: name, kind: 'route', rank, detail: declaration.title?.value ?? '' });
    }
    return;
  }
  if (last === T.Arrow) {
    const { declaration } = point.unit;
    const route = declaration.kind === 'rescue' ? declaration.route?.name : undefined;
    const of = route === undefined ? undefined : scope.routes.get(route)?.declaration;
    offerSpots(point, { spots: of === undefined ? [] : claimsOf(of), unknown: true }, offer);
    return;
  }
  if (!has(T.In)) offerWord('in', offer);
}

/** The spots that a route claims, where a rescue can rejoin it. */
function claimsOf({ body, to }: RouteDeclaration): string[] {
  const names = new Set<string>();
  const visit = (items: typeof body): void => {
    for (const item of items) {
      for (const mark of item.marks) if (mark.kind === 'claim') names.add(mark.name);
      if (item.kind === 'choose') for (const way of item.ways) visit(way.body);
      else if ('body' in item) visit(item.body);
    }
  };
  visit(body);
  if (to !== undefined) names.add(to.name);
  return [...names];
}

export function offerWord(word: string, offer: Offer, rank = 0): void {
  const known = WORDS.find((each) => each.word === word);
  if (known === undefined) return;
  const { what, snippet } = known;
  offer({ label: word, kind: 'word', rank, detail: what, insert: snippet, snippet: true });
}
