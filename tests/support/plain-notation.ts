import type { PlainGame, PlainItem, PlainPace, PlainPart, PlainWindow } from './plain-expansion.js';

/** The inputs of the invented games of `plain-sequences.ts`, in the order of their declaration. */
export const PLAIN_INPUTS = ['U', 'D', 'L', 'R', 'W', 'J', 'S'] as const;

/** The whole note: the game, the phrases that the items use, and a route of them, `crossing`. */
export function notation(items: readonly PlainItem[], game: PlainGame): string {
  const phrases = new Map<string, string>();
  const body = block(items, phrases);
  const { clock, settle, pace, pause } = game;
  return [
    'game "Lock Keeper" {',
    `  clock ${clock}`,
    settle === undefined ? '' : `  settle ${settle}`,
    pace === undefined ? '' : `  pace ${writtenPace(pace)}`,
    '  inputs { U = y -1 D = y +1 L = x -1 R = x +1 W = y -0.5 "half tilt" J = jump S = strike }',
    `  pause P { open ${pause.open} dwell ${pause.dwell} resume ${pause.resume} }`,
    '}',
    ...[...phrases].map(([name, text]) => `let ${name} = ${text}`),
    `route crossing { ${body} }`,
    '',
  ].join('\n');
}

function block(items: readonly PlainItem[], phrases: Map<string, string>): string {
  return items.map((item) => written(item, phrases)).join(' ');
}

function written(item: PlainItem, phrases: Map<string, string>): string {
  switch (item.kind) {
    case 'press':
      return item.held + count(item);
    case 'wait':
      return `.${count(item)}`;
    case 'settle':
      return '~';
    case 'pause':
      return `[${windows(item.windows, phrases)}]`;
    case 'repeat': {
      const to = item.to === undefined ? '' : `..${item.to}`;
      return `${repeatable(item.of, phrases)}*${item.times}${to}`;
    }
    case 'group':
      return `(${block(item.items, phrases)})`;
    case 'phrase':
      return named(item.name, block(item.items, phrases), phrases);
    case 'hold':
      return `${item.held}&(${block(item.items, phrases)})`;
    case 'pace':
      return `pace ${writtenPace(item.pace)}`;
    case 'joined':
      return item.items.map((each) => written(each, phrases)).join('-');
  }
}

/** A repeat belongs to one item; what is more than one goes into brackets. */
function repeatable(item: PlainItem, phrases: Map<string, string>): string {
  const text = written(item, phrases);
  return item.kind === 'joined' || item.kind === 'repeat' ? `(${text})` : text;
}

function windows(all: readonly PlainWindow[], phrases: Map<string, string>): string {
  return all.map((each) => window(each, phrases)).join(' ');
}

function window(each: PlainWindow, phrases: Map<string, string>): string {
  if (each.kind === 'window') {
    return each.parts.map((part) => (part.held === '' ? '.' : part.held) + count(part)).join('-');
  }
  if (each.kind === 'windows') {
    const text = windows(each.windows, phrases);
    return each.phrase === undefined ? `(${text})` : named(each.phrase, text, phrases);
  }
  const text = window(each.of, phrases);
  const single = each.of.kind === 'windows' || (each.of.kind === 'window' && !text.includes('-'));
  return `${single ? text : `(${text})`}*${each.times}`;
}

/** A phrase is what its name says: the same words twice keep their name, others get one more letter. */
function named(name: string, text: string, phrases: Map<string, string>): string {
  let free = name;
  while (phrases.has(free) && phrases.get(free) !== text) free += 'x';
  phrases.set(free, text);
  return free;
}

/** One frame is written in both of its forms, by the letter that carries it. */
function count(part: Pick<PlainPart, 'n' | 'to'> & { held?: string }): string {
  if (part.to !== undefined) return `${part.n}..${part.to}`;
  return part.n === 1 && part.held !== 'J' ? '' : String(part.n);
}

function writtenPace(pace: PlainPace): string {
  return pace === '~' ? '~' : `.${pace}`;
}
