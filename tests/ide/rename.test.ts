import { describe, expect, test } from 'vitest';
import { prepareRename, rename } from '@core/ide/rename.js';
import { describeConflict } from '@core/ide/rename-words.js';
import { edited, GAME, world } from './world.js';

/** Renames at the cursor; the marked files afterwards, without a conflict. */
function check(marked: string, to: string, after: string): void {
  const { analysis, texts, path, offset } = world(marked);
  const renamed = rename(analysis, path, offset, to);
  expect(renamed?.conflicts).toEqual([]);
  expect(edited(texts, renamed?.edits ?? [])).toEqual(world(after).texts);
}

/** The conflicts, each as its reason, its places as they are written, and its words. */
function conflicts(marked: string, to: string) {
  const { analysis, texts, path, offset } = world(marked);
  const renamed = rename(analysis, path, offset, to);
  const shown = (renamed?.conflicts ?? []).map((conflict) => ({
    reason: conflict.reason,
    places: conflict.places.map((at) => {
      const text = texts.get(at.path) ?? '';
      const before = text.slice(0, at.start);
      return `${at.path}:${before.split('\n').length} ${text.slice(at.start, at.end)}`;
    }),
    words: describeConflict(conflict),
  }));
  return { conflicts: shown, edits: (renamed?.edits ?? []).length };
}

test('a phrase', () => {
  check(
    'let ho|p = U\nlet twice = hop hop*2 # hop\nroute hop { hop "hop" }',
    'skip',
    'let skip = U\nlet twice = skip skip*2 # hop\nroute hop { skip "hop" }',
  );
});

test('a spot, with or without the @', () => {
  const marked =
    'seen { @lamp : U -> @lamp x2 }\nroute a from @lamp to @la|mp { U*2+ until @lamp }';
  const after = 'seen { @post : U -> @post x2 }\nroute a from @post to @post { U*2+ until @post }';
  check(marked, 'post', after);
  check(marked, ' @post ', after);
});

test('an input, inside its presses', () => {
  check(
    `${GAME}\nlet roll = D3-DR2-R\nroute a { R|D&(.4 D) [D1] D "D" }`,
    'K',
    `${GAME.replace('D =', 'K =')}\nlet roll = K3-KR2-R\nroute a { RK&(.4 K) [K1] K "D" }`,
  );
});

test('the pause input', () => {
  check('game "Pier" { pause P| { open 4 } }', 'Q', 'game "Pier" { pause Q { open 4 } }');
});

test('a route with its rescues', () => {
  check(
    'route over { U }\nrescue @lamp in ov|er { D } -> @pier',
    'along',
    'route along { U }\nrescue @lamp in along { D } -> @pier',
  );
});

test('a choice, a way, a ground, hands, an axis and a button', () => {
  check('route a { choose f|ar { a { U } } }', 'near', 'route a { choose near { a { U } } }');
  check('route a { choose far { a| { U } } }', 'b', 'route a { choose far { b { U } } }');
  check('ground de|ck { U by (0, 1) }', 'roof', 'ground roof { U by (0, 1) }');
  check('hands ti|red { reset 14s }', 'cold', 'hands cold { reset 14s }');
  check(
    'game "P" { inputs { D = y| +1 U = y -1 } }',
    'z',
    'game "P" { inputs { D = z +1 U = z -1 } }',
  );
  check('game "P" { inputs { J = ju|mp } }', 'hop', 'game "P" { inputs { J = hop } }');
});

test('across files that use each other', () => {
  check(
    `
//- log.tiptoe
seen { @lamp : U -> @pier }
//- sub/note.tiptoe
use "../log.tiptoe"
route a { U @la|mp }
//- other.tiptoe
spot @lamp`,
    'post',
    `
//- log.tiptoe
seen { @post : U -> @pier }
//- sub/note.tiptoe
use "../log.tiptoe"
route a { U @post }
//- other.tiptoe
spot @lamp`,
  );
});

test('names beyond ASCII, and beyond the first plane', () => {
  check(
    'spot @l|amp "😀" seen { @lamp : U -> @lamp }',
    'föhn𝒶',
    'spot @föhn𝒶 "😀" seen { @föhn𝒶 : U -> @föhn𝒶 }',
  );
});

test('the place to type over is the name alone', () => {
  const { analysis, path, offset, texts } = world('route a { U |@lamp }');
  const place = prepareRename(analysis, path, offset);
  expect(place).toMatchObject({ kind: 'spot', name: 'lamp' });
  expect(texts.get(path)?.slice(place?.start, place?.end)).toBe('lamp');
});

test.each(['let hop| = U', 'route a { R|D }', 'spot |@lamp', 'hands hop| { }'])(
  'the same name changes nothing: %s',
  (marked) => {
    const { analysis, path, offset } = world(marked);
    const name = prepareRename(analysis, path, offset)?.name ?? '';
    expect(rename(analysis, path, offset, name)).toEqual({ edits: [], conflicts: [] });
  },
);

test.each(['ro|ute a { U }', 'let hop = U2|2', 'let hop = U # h|op', 'use "h|op.tiptoe"', '|'])(
  'there is nothing to rename at %s',
  (marked) => {
    const { analysis, path, offset } = world(marked);
    expect(prepareRename(analysis, path, offset)).toBeUndefined();
    expect(rename(analysis, path, offset, 'other')).toBeUndefined();
  },
);

describe('what can be no name', () => {
  test.each([
    ['let ho|p = U', ''],
    ['let ho|p = U', 'Hop'],
    ['let ho|p = U', '2nd'],
    ['let ho|p = U', 'two words'],
    ['let ho|p = U', 'up-down'],
    ['let ho|p = U', '@hop'],
    ['let ho|p = U', 'hop!'],
    ['let ho|p = U', 'hop#'],
    ['let ho|p = U', '"hop"'],
    ['spot @la|mp', ''],
    ['spot @la|mp', '@'],
    ['spot @la|mp', '@@post'],
    ['spot @la|mp', 'a b'],
    ['spot @la|mp', 'a-b'],
    ['route a { D| }', 'd'],
    ['route a { D| }', 'DR'],
    ['route a { D| }', 'É'],
    ['route a { D| }', '3'],
    ['route a { D| }', ''],
    ['hands ti|red { }', 'Tired'],
  ])('%s as "%s" is malformed', (marked, to) => {
    const { conflicts: found, edits } = conflicts(marked, to);
    expect(found.map(({ reason }) => reason)).toEqual(['malformed']);
    expect(edits).toBe(0);
  });

  test.each(['use', 'route', 'until', 'anywhere', 'pace', 'x22', 'in', 'by'])(
    'a phrase called %s reads as a word of the notation',
    (to) => {
      const { conflicts: found, edits } = conflicts('let ho|p = U', to);
      expect(found.map(({ reason }) => reason)).toEqual(['reserved']);
      expect(edits).toBe(0);
    },
  );

  test.each(['use', 'x22', '7', 'Reed'])('a spot may be called %s', (to) => {
    expect(conflicts('spot @la|mp', to).conflicts).toEqual([]);
  });

  test('the words say what it must be', () => {
    expect(conflicts('let ho|p = U', 'Hop').conflicts[0]?.words).toBe(
      '"Hop" cannot be the name of a phrase: it must be a small letter and then letters, digits and _.',
    );
    expect(conflicts('let ho|p = U', 'use').conflicts[0]?.words).toContain(
      'use is a word of the notation',
    );
  });

  test('a line that would begin like a declaration is shown', () => {
    const found = conflicts('let skip = U\nlet a = U\nsk|ip skip', 'rout');
    expect(found.conflicts).toMatchObject([{ reason: 'reserved', places: ['note.tiptoe:3 skip'] }]);
  });
});

describe('a name that is taken', () => {
  test('is shown where it is given', () => {
    expect(conflicts('let ho|p = U\nlet skip = D\nroute a { hop skip }', 'skip')).toEqual({
      conflicts: [
        {
          reason: 'taken',
          places: ['note.tiptoe:2 skip'],
          words: 'There is a phrase skip already: the two would become one.',
        },
      ],
      edits: 1,
    });
  });

  test('is shown where it is only spoken of', () => {
    const found = conflicts('let ho|p = U\nroute a { hop skip skip }', 'skip').conflicts;
    expect(found).toMatchObject([{ reason: 'taken', places: ['note.tiptoe:2 skip'] }]);
  });

  test('in a file that is used, and in one that uses both', () => {
    const marked = `
//- a.tiptoe
let skip = U
//- b.tiptoe
let h|op = D
//- c.tiptoe
use "a.tiptoe"
use "b.tiptoe"
route c { skip hop }`;
    expect(conflicts(marked, 'skip').conflicts).toMatchObject([
      { reason: 'taken', places: ['a.tiptoe:1 skip', 'c.tiptoe:3 skip'] },
    ]);
  });

  test('but not in a file that nothing brings together with it', () => {
    const marked = '//- a.tiptoe\nlet skip = U\n//- b.tiptoe\nlet h|op = D\nroute c { hop }';
    expect(conflicts(marked, 'skip').conflicts).toEqual([]);
  });

  test('nor by something of another kind', () => {
    const marked =
      'route skip { U }\nspot @skip\nlet h|op = D\nroute c { choose skip { skip { hop } } }';
    expect(conflicts(marked, 'skip').conflicts).toEqual([]);
  });

  test('spots and inputs', () => {
    expect(conflicts('seen { @la|mp : U -> @post }', '@post').conflicts).toMatchObject([
      { reason: 'taken', words: 'There is a spot @post already: the two would become one.' },
    ]);
    expect(conflicts(`${GAME}\nroute a { D| }`, 'R').conflicts).toMatchObject([
      { reason: 'taken', places: ['note.tiptoe:8 R'] },
    ]);
    expect(conflicts(`${GAME}\nroute a { D| }`, 'P').conflicts).toMatchObject([
      { reason: 'taken', places: ['note.tiptoe:11 P'] },
    ]);
  });

  test('choices of the route and ways of the choose', () => {
    const marked = (cursor: string) =>
      `route a { choose far { a { U } b { D } } choose near { c { U } } }`.replace(
        cursor,
        `${cursor}|`,
      );
    expect(conflicts(marked('far'), 'near').conflicts).toMatchObject([{ reason: 'taken' }]);
    expect(conflicts(marked('{ a'), 'b').conflicts).toMatchObject([{ reason: 'taken' }]);
    expect(conflicts(marked('{ a'), 'c').conflicts).toEqual([]);
  });
});

test('a name that is given twice is renamed at both places, and that is shown', () => {
  const found = conflicts('let ho|p = U\nlet hop = D\nroute a { hop }', 'skip');
  expect(found.edits).toBe(1);
  expect(found.conflicts).toMatchObject([
    { reason: 'given-twice', places: ['note.tiptoe:1 hop', 'note.tiptoe:2 hop'] },
  ]);
});

describe('text that cannot be read', () => {
  test('is shown where it holds the name', () => {
    const marked = 'spot @lam|p\nroute a from @lamp from @lamp { U }\n??? @lamp "@lamp" # @lamp';
    expect(conflicts(marked, 'post').conflicts).toMatchObject([
      {
        reason: 'unread',
        places: ['note.tiptoe:2 lamp', 'note.tiptoe:3 lamp'],
        words:
          '@lamp also stands in 2 places where the text cannot be read: it is left as it is there.',
      },
    ]);
  });

  test('a letter of presses that are none', () => {
    expect(conflicts('route a { D| R }\nx DR3', 'K').conflicts).toMatchObject([
      { reason: 'unread', places: ['note.tiptoe:2 D'] },
    ]);
  });

  test('is not shown for other names, nor in text that can be read', () => {
    const marked = 'let ho|p = U\nlet whop = hop\n??? whop @hop hop2\nroute a { hop } # hop';
    expect(conflicts(marked, 'skip').conflicts).toEqual([]);
  });
});
