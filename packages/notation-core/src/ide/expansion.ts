import type { Declared, Scope } from '../model/scope.js';
import type { LetDeclaration } from '../syntax/tree.js';
import { extentOf } from './items-at.js';
import { occurrencesOf } from './occurrences.js';

/** Phrases inside phrases that are still written out. */
const DEPTH = 20;

/** The items of a phrase with the phrases in it written out; cut where it is longer than `most`. */
export function expansionOf(phrase: Declared<LetDeclaration>, scope: Scope, most = 400): string {
  const parts: string[] = [];
  let left = most;
  const put = (text: string): void => {
    if (left <= 0) return;
    parts.push(text.length <= left ? text : `${text.slice(0, left)} …`);
    left -= text.length;
  };
  const write = ({ declaration, unit }: Declared<LetDeclaration>, depth: number): void => {
    const { body } = declaration;
    const first = body[0];
    const last = body[body.length - 1];
    if (first === undefined || last === undefined) return;
    const { text, comments } = unit;
    let at = first.start;
    const end = extentOf(last).end;
    const plain = (to: number): void => {
      let from = at;
      for (const comment of comments) {
        if (comment.start < from || comment.end > to) continue;
        put(text.slice(from, comment.start).replace(/\s+/g, ' '));
        from = comment.end;
      }
      put(text.slice(from, to).replace(/\s+/g, ' '));
      at = to;
    };
    for (const each of occurrencesOf(unit)) {
      if (left <= 0) return;
      if (each.kind !== 'phrase' || each.declares || each.start < at) continue;
      const inner = scope.phrases.get(each.name);
      if (inner === undefined || depth >= DEPTH) continue;
      plain(each.start);
      put('(');
      write(inner, depth + 1);
      put(')');
      at = each.end;
    }
    plain(end);
  };
  write(phrase, 0);
  return parts.join('').trim();
}
