import type { Item, Name, Placed, Unit } from '../syntax/tree.js';
import type { Span } from '../text/span.js';
import type { Analysis } from './analysis.js';

export type SymbolKind =
  | 'game' | 'input' | 'pause' | 'cue' | 'hands' | 'spot' | 'phrase' | 'seen' | 'ground'
  | 'route' | 'rescue' | 'choice' | 'way'; // prettier-ignore

/** Something that a file declares, for its outline. */
export interface NoteSymbol extends Span {
  readonly kind: SymbolKind;
  /** As it is written: a spot with its `@`; a kind in brackets where the name is still missing. */
  readonly name: string;
  readonly detail: string;
  /** Where the name stands. */
  readonly at: Span;
  readonly children: readonly NoteSymbol[];
}

/** The outline of a file: its declarations, routes with their choices and ways, games with inputs. */
export function documentSymbols(analysis: Analysis, path: string): NoteSymbol[] {
  const units = analysis.file(path)?.tree.units ?? [];
  return units.flatMap((placed) => symbolsOf(placed));
}

/** The symbols of a unit with the offsets of its file. */
export function symbolsOf({ start, unit }: Placed): readonly NoteSymbol[] {
  let found = known.get(unit);
  if (found === undefined) known.set(unit, (found = inUnit(unit)));
  return start === 0 ? found : found.map((symbol) => moved(symbol, start));
}

const known = new WeakMap<Unit, readonly NoteSymbol[]>();

function moved(symbol: NoteSymbol, by: number): NoteSymbol {
  const { start, end, at, children } = symbol;
  return {
    ...symbol,
    start: start + by,
    end: end + by,
    at: { start: at.start + by, end: at.end + by },
    children: children.map((child) => moved(child, by)),
  };
}

function inUnit({ declaration, text, comments }: Unit): NoteSymbol[] {
  const words = (span: Span | undefined): string =>
    span === undefined ? '' : text.slice(span.start, span.end);
  const symbol = (
    kind: SymbolKind,
    of: Span,
    name: Span | undefined,
    detail = '',
    children: readonly NoteSymbol[] = [],
  ): NoteSymbol => {
    // Without a name of its own it goes by its first word.
    const at = name ?? { start: of.start, end: of.start + (/^\w*/.exec(text.slice(of.start))?.[0].length ?? 0) }; // prettier-ignore
    const shown = name === undefined ? `(${kind})` : words(name);
    return { kind, name: shown, detail, start: of.start, end: of.end, at, children };
  };
  const choices = (items: readonly Item[], found: NoteSymbol[] = []): NoteSymbol[] => {
    for (const item of items) {
      if (item.kind === 'choose') {
        const ways = item.ways.map((way) => symbol('way', way, way.name, '', choices(way.body)));
        found.push(symbol('choice', item, item.name, '', ways));
      } else if ('body' in item) choices(item.body, found);
    }
    return found;
  };
  // Most routes leave nothing to choose, and a look at the text is shorter than one at the items.
  const chosen = (items: readonly Item[]) => (text.includes('choose') ? choices(items) : []);

  const it = declaration;
  switch (it.kind) {
    case 'let':
      return [symbol('phrase', it, it.name, oneLine(text, comments, spanOf(it.body)))];
    case 'spot': {
      const detail = [it.paused ? 'paused' : '', words(it.at), it.cue?.value ?? ''];
      return [symbol('spot', it, it.spot, detail.filter((part) => part !== '').join(' '))];
    }
    case 'seen':
      return [
        { ...symbol('seen', it, undefined, counted(it.rows.length, 'row')), name: 'seen' },
      ]; // prettier-ignore
    case 'ground':
      return [symbol('ground', it, it.name, counted(it.moves.length, 'move'))];
    case 'hands': {
      const hands = symbol('hands', it, it.name);
      return [it.name === undefined ? { ...hands, name: 'hands' } : hands];
    }
    case 'route':
      return [symbol('route', it, it.name, it.title?.value, chosen(it.body))];
    case 'rescue': {
      const rescue = symbol('rescue', it, it.spot, '', chosen(it.body));
      const from = (name: Name | undefined, before: string) =>
        name === undefined ? '' : ` ${before} ${words(name)}`;
      return [{ ...rescue, name: `${rescue.name}${from(it.route, 'in')}${from(it.to, '->')}` }];
    }
    case 'game': {
      const inputs = it.inputs.map((line) => {
        const note = line.note === undefined ? '' : ` ${words(line.note)}`;
        const value = line.value === undefined ? '' : ` ${words(line.value)}`;
        return symbol('input', line, line.letter, `${words(line.target)}${value}${note}`);
      });
      const pauses = it.pauses.map((pause) => symbol('pause', pause, pause.letter, 'pause'));
      const cues = it.cues.map((cue) => ({
        ...symbol('cue', cue, cue.frame, cue.text?.value),
        name: `cue ${words(cue.frame)}`.trimEnd(),
      }));
      const children = [...inputs, ...pauses, ...cues].sort((a, b) => a.start - b.start);
      const game = symbol('game', it, it.title, '', children);
      return [it.title === undefined ? game : { ...game, name: it.title.value || '(game)' }];
    }
    case 'use':
    case 'broken':
      return [];
  }
}

function spanOf(items: readonly Item[]): Span | undefined {
  const [first] = items;
  const last = items[items.length - 1];
  if (first === undefined || last === undefined) return undefined;
  return { start: first.start, end: last.marks[last.marks.length - 1]?.end ?? last.end };
}

function counted(n: number, what: string): string {
  return `${n} ${what}${n === 1 ? '' : 's'}`;
}

/** As much of a sequence as an outline has room for, without its comments. */
function oneLine(text: string, comments: readonly Span[], span: Span | undefined): string {
  if (span === undefined) return '';
  const end = Math.min(span.end, span.start + 500);
  let [out, at] = ['', span.start];
  for (const comment of comments) {
    if (comment.start < at || comment.start >= end) continue;
    out += text.slice(at, comment.start);
    at = comment.end;
  }
  const line = (out + text.slice(at, Math.max(at, end))).replace(/\s+/g, ' ').trim();
  return line.length > 40 ? `${line.slice(0, 39).trimEnd()}…` : line;
}
