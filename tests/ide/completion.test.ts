import { describe, expect, test } from 'vitest';
import { completion, completionDocs, type CompletionOptions } from '@core/ide/completion.js';
import { atCursor } from './at.js';

interface Expected {
  /** These labels come first, in this order. */
  readonly first?: readonly string[];
  /** These are there, and these are not. */
  readonly has?: readonly string[];
  readonly lacks?: readonly string[];
  /** These and no others, in any order. */
  readonly only?: readonly string[];
  readonly replaces?: string;
  readonly options?: CompletionOptions;
}

function check(marked: string, expected: Expected): void {
  const { analysis, path, offset, text } = atCursor(marked);
  const { items } = completion(analysis, path, offset, expected.options);
  const labels = items.map(({ label }) => label);
  const { first, has = [], lacks = [], only, replaces } = expected;
  if (first !== undefined) expect(labels.slice(0, first.length)).toEqual(first);
  for (const each of has) expect(labels).toContain(each);
  for (const each of lacks) expect(labels).not.toContain(each);
  if (only !== undefined) expect([...labels].sort()).toEqual([...only].sort());
  for (const { span } of items) {
    expect(span.end).toBe(offset);
    if (replaces !== undefined) expect(text.slice(span.start, span.end)).toBe(replaces);
  }
}

const detail = (marked: string, label: string): string | undefined => {
  const { analysis, path, offset } = atCursor(marked);
  return completion(analysis, path, offset).items.find((each) => each.label === label)?.detail;
};

const route = (body: string, head = 'from @reed to @past'): string =>
  `use "log.tiptoe"\nroute cross ${head} {\n  ${body}\n}\n`;

describe('in a sequence', () => {
  test('the moves logged from where the character stands come first, with their landings', () => {
    check(route('|'), { first: ['U', '[U1]'], has: ['D', 'shuffle', '(…)*n', 'choose'] });
    expect(detail(route('|'), '[U1]')).toBe('→ @tern x9');
    expect(detail(route('|'), 'U')).toBe('→ @rush x22, @past x2');
    check(route('[U1] |'), { first: ['shuffle', 'U0-[]'] });
    check(route('[U1] @tern |'), { first: ['shuffle', 'U0-[]', '@tern'] });
  });
  test('from several spots each says which it is for', () => {
    expect(detail(route('|', 'from @reed @rush'), '[U1]')).toBe('@reed → @tern x9');
  });
  test('inside a group, a way, a row of the log and a rescue', () => {
    check(route('[U1] (|)*2'), { first: ['shuffle', 'U0-[]'] });
    check(route('[U1] choose end { slow { | } fast { U } }'), { first: ['shuffle', 'U0-[]'] });
    check('use "log.tiptoe"\nseen {\n  @tern : |\n}', { first: ['shuffle', 'U0-[]'] });
    check(`${route('U')}rescue @snag in cross { | } -> @tern`, { first: ['[R0]-J U*3'] });
  });
  test('in an unclosed declaration in front of others', () => {
    check('use "log.tiptoe"\nroute cross from @reed to @past {\n  [U1] |\n\nlet other = U\n', { first: ['shuffle', 'U0-[]'] }); // prettier-ignore
  });
  test('on open ground the moves of the ground', () => {
    check('use "game.tiptoe"\nspot @crate at (400, 120)\nground yard within (380, 60) to (520, 140) { U by (0, -13) }\nroute a from @crate { | }', { first: ['U'] }); // prettier-ignore
  });
  test('no moves where nobody knows the spot, or where items are joined', () => {
    check(route('J |'), { lacks: ['[U1]', 'U0-[]'], first: ['U', 'D'] });
    check(route('[U1]-|'), { lacks: ['U0-[]', '~', '(…)*n'], has: ['J'] });
    check('use "log.tiptoe"\nlet hop = |', { lacks: ['[U1]'], has: ['U', 'shuffle'] });
    check('use "log.tiptoe"\nlet hop = |', { lacks: ['hop'] });
  });
  test('inside a pause windows, and nothing that cannot stand there', () => {
    check(route('[|]'), { has: ['U', 'shuffle', '.1'], lacks: ['[U1]', '~', 'choose', '[…]'] });
    check(route('[U1 |'), { has: ['U'], lacks: ['~', 'choose'] });
  });
  test('more letters for a press that has begun, none of the same axis', () => {
    check(route('D|'), { has: ['DR', 'DJ'], lacks: ['DU', 'DD', 'DW'], replaces: 'D' });
  });
  test('claims, the likeliest first', () => {
    check(route('U @|'), { first: ['@rush', '@past'], has: ['@tern'], replaces: '@' });
    check(route('U @te|'), { first: ['@tern'], replaces: '@te' });
    check(route('U*2+ until @|'), { has: ['@reed'] });
    check(route('U*2+ |'), { has: ['until @spot'] });
  });
  test('waits behind pace, nothing behind choose, in its block or in a number', () => {
    check(route('pace |'), { only: ['~', '.n'] });
    check(route('choose |'), { only: [] });
    check(route('choose end { | }'), { only: [] });
    check(route('D1|'), { lacks: ['shuffle'] });
    check(route('U "a no|te"'), { only: [] });
    check(route('U # a remark |\n'), { only: [] });
  });
});

describe('in heads and blocks', () => {
  test('declarations where one can begin', () => {
    check('|', { first: ['use', 'game', 'hands'], has: ['route', 'rescue'] });
    check('use "game.tiptoe"\nro|', { first: ['route'], replaces: 'ro' });
    check('use "game.tiptoe"\nroute a { U }\n|\nlet b = U', { has: ['let'], lacks: ['U'] });
    check('use "game.tiptoe"\nlet a = U\n|', { has: ['let', 'U'] });
    check(route('|'), { lacks: ['let', 'route'] });
  });
  test('the head of a route', () => {
    check('use "log.tiptoe"\nroute a |', { only: ['from', 'to'] });
    check('use "log.tiptoe"\nroute a from |', { has: ['anywhere', '@reed'] }); // prettier-ignore
    check('use "log.tiptoe"\nroute a from @reed |', { has: ['to', '@rush'], lacks: ['from'] });
    check('use "log.tiptoe"\nroute a from @reed to @|', { has: ['@past'], lacks: ['to'] });
    check('route |', { only: [] });
  });
  test('the parts of a rescue', () => {
    check(`${route('U')}rescue @|`, { has: ['@snag'] });
    check(`${route('U')}rescue @snag |`, { only: ['in'] });
    check(`${route('U')}rescue @snag in |`, { only: ['cross'] });
    check(`${route('[U1] @tern U')}rescue @snag in cross { J } -> @|`, { first: ['@tern', '@past'] }); // prettier-ignore
  });
  test('spots and grounds', () => {
    check('seen { @a : U -> @b }\nspot @|', { only: ['@a', '@b'] });
    check('spot @a |', { only: ['paused', 'at'] });
    check('ground yard |', { only: ['within'] });
    check('use "game.tiptoe"\nground yard within (0, 0) to (9, 9) { U | }', { has: ['by'] });
  });
  test('rows of the log', () => {
    check('use "log.tiptoe"\nseen {\n  |\n}', { only: ['@from : … -> @to'] });
    check('use "log.tiptoe"\nseen {\n  @reed : U -> @rush x2\n  @|\n}', { has: ['@tern'] });
    check('use "log.tiptoe"\nseen {\n  @reed : U -> |\n}', { has: ['@rush'], lacks: ['U'] });
  });
});

describe('settings', () => {
  test('of a game those that are missing', () => {
    check('game "Ferry" {\n  clock 50\n  |\n}', { only: ['settle', 'pace', 'inputs', 'pause', 'cue'] }); // prettier-ignore
    check('game "Ferry" { clock 50 pause P { open 4 | } }', { only: ['dwell', 'resume'] });
    check('game "Ferry" { clock 50 inputs { | } }', { only: ['axis', 'button'] });
    check('game "Ferry" { clock 50 inputs { D = | } }', { only: ['x', 'y'] });
    check('game "Ferry" { clock 50 pace | }', { first: ['~', '.2'] });
  });
  test('of hands', () => {
    check('hands {\n  miss 1%\n  |\n}', { has: ['spread', 'reset'], lacks: ['miss', 'clock'] });
    check('hands {\n  shape |\n}', { first: ['normal', 'lognormal'] });
  });
  test('does not apply outside the block', () => {
    check('game |', { only: [] });
  });
});

describe('in comments and paths', () => {
  test('the rules, those first that have something to say', () => {
    check(`use "game.tiptoe"\nlet hop = U1 # tiptoe: allow |`, { first: ['count-form'], has: ['unsettled'], lacks: ['unclosed-text', 'unused-silence'] }); // prettier-ignore
    check(`use "game.tiptoe"\n# tiptoe: allow cou|\nlet hop = U1`, { first: ['count-form'], replaces: 'cou' }); // prettier-ignore
    check('# tiptoe: allow pinch, un|', { has: ['unsettled'] });
    check('# ti|', { only: ['tiptoe: allow'] });
    check('# some words |', { only: [] });
    check('# tiptoe: allow pinch because |', { only: [] });
  });
  test('paths, relative, those not yet used first', () => {
    check('//- a/note.tiptoe\nuse "|"', { first: ['../game.tiptoe', '../log.tiptoe'] });
    check('use "game.tiptoe"\nuse "|"', { first: ['log.tiptoe', 'game.tiptoe'], options: {} });
    check('use "|"', { has: ['more/x.tiptoe'], lacks: ['note.tiptoe'], options: { paths: ['more/x.tiptoe', 'note.tiptoe'] } }); // prettier-ignore
    check('use |', { only: ['"…"'] });
    check('spot @a "|"', { only: [] });
  });
});

describe('the docs of a completion', () => {
  const docs = (
    kind: 'spot' | 'phrase' | 'rule' | 'input' | 'route' | 'path' | 'form',
    name: string,
  ) => {
    // prettier-ignore
    const { analysis, path } = atCursor(`${route('U')}|`);
    return completionDocs(analysis, path, { kind, name });
  };
  test('say what each is', () => {
    expect(docs('spot', 'reed')).toContain('toe on the last plank');
    expect(docs('phrase', 'shuffle')).toContain('let shuffle = R U U');
    expect(docs('rule', 'pinch')).toContain('# pinch');
    expect(docs('input', 'W')).toContain('half tilt');
    expect(docs('route', 'cross')).toContain('route cross');
    expect(docs('path', 'game.tiptoe')).toContain('Somebody carries lamps');
  });
  test('say nothing of what is not known', () => {
    expect(docs('spot', 'nowhere')).toBe('');
    expect(docs('rule', 'nonsense')).toBe('');
    expect(docs('path', 'none.tiptoe')).toBe('');
    expect(docs('form', '(…)*n')).toBe('');
  });
});
