import { describe, expect, test } from 'vitest';
import { documentSymbols, type NoteSymbol } from '@core/ide/symbols.js';
import { workspaceSymbols } from '@core/ide/workspace-symbols.js';
import { world } from './world.js';

/** The outline, a line a symbol: kind, name, detail, and the name as it stands in the text. */
function outline(text: string): string {
  const { analysis, path, texts } = world(text);
  const note = texts.get(path) ?? '';
  const lines = (symbols: readonly NoteSymbol[], indent: string): string[] =>
    symbols.flatMap((symbol) => {
      const { start, end, at, kind, name, detail, children } = symbol;
      expect(start <= at.start && at.end <= end).toBe(true);
      for (const child of children) {
        expect(start <= child.start && child.end <= end).toBe(true);
      }
      const line = `${indent}${kind} ${name} [${detail}] ${note.slice(at.start, at.end)}`;
      return [line, ...lines(children, `${indent}  `)];
    });
  return lines(documentSymbols(analysis, path), '').join('\n');
}

function check(text: string, wanted: string): void {
  expect(outline(text)).toBe(wanted.trim());
}

test('a game with its inputs, pause and cues, in the order of the text', () => {
  check(
    `# one
game "Pier" {
  cue 1 "lamp level"
  clock 50
  inputs { D = y +1  W = y -0.5 "half tilt"  J = jump }
  pause P { open 4 }
}`,
    `
game Pier [] "Pier"
  cue cue 1 [lamp level] 1
  input D [y +1] D
  input W [y -0.5 "half tilt"] W
  input J [jump] J
  pause P [pause] P`,
  );
});

test('routes with choices and ways, however deep', () => {
  check(
    `
route over "Over the pier" from anywhere {
  U
  choose far {
    a { U choose near { c { D } } }
    b { D }
  }
}
rescue @lamp in over { choose out { d { U } } } -> @pier`,
    `
route over [Over the pier] over
  choice far [] far
    way a [] a
      choice near [] near
        way c [] c
    way b [] b
rescue @lamp in over -> @pier [] @lamp
  choice out [] out
    way d [] d`,
  );
});

test('phrases, spots, logs, grounds and hands; no use', () => {
  check(
    `
use "a.tiptoe"
let hop = U   R # why
  D
let long = U1 D1 U1 D1 U1 D1 U1 D1 U1 D1 U1 D1 U1 D1 U1 D1
spot @lamp paused at (4, 2) "lit"
spot @pier
seen { @lamp : U -> @pier   @pier : D -> @lamp x3 }
seen { @lamp : U -> @pier }
ground deck within (0, 0) to (9, 9) { U by (0, 1) }
hands { reset 14s }
hands tired { reset 14s }`,
    `
phrase hop [U R D] hop
phrase long [U1 D1 U1 D1 U1 D1 U1 D1 U1 D1 U1 D1 U1…] long
spot @lamp [paused (4, 2) lit] @lamp
spot @pier [] @pier
seen seen [2 rows] seen
seen seen [1 row] seen
ground deck [1 move] deck
hands hands [] hands
hands tired [] tired`,
  );
});

test('broken declarations as far as they go', () => {
  check(
    'route { U }\nlet = D\nspot\nfoo bar\nrescue in over { U\ngame { inputs { D = } }',
    `
route (route) [] route
phrase (phrase) [D] let
spot (spot) [] spot
rescue (rescue) in over [] rescue
game (game) [] game
  input D [] D`,
  );
});

test.each(['', '# nothing', '???', 'use "a.tiptoe"'])('nothing for %j', (text) => check(text, ''));

test('nothing for a file that is not there', () => {
  expect(documentSymbols(world('let a = U').analysis, 'no.tiptoe')).toEqual([]);
});

describe('symbols of the workspace', () => {
  const { analysis, texts } = world(`
//- game.tiptoe
game "Pier Lanterns" { inputs { D = y +1  J = jump } pause P { open 4 } cue 1 "lamp" }
//- log.tiptoe
use "game.tiptoe"
spot @lamp
let low_lamp = D
seen { @lamp : D -> @ladder  @ladder : D -> @lamp }
//- sub/note.tiptoe
use "../log.tiptoe"
let lantern = J
route lap { choose lamp_way { left { D } } @ladder }
`);
  const found = (query: string) =>
    workspaceSymbols(analysis, query).map(({ kind, name, within, path, start, end }) => {
      const written = texts.get(path)?.slice(start, end);
      expect(written?.replace(/"/g, '')).toBe(name);
      return `${kind} ${name}${within === '' ? '' : ` in ${within}`} ${path}`;
    });

  test('the best fit comes first: the name, its beginning, a word in it, letters of it', () => {
    expect(found('lamp')).toEqual([
      'spot @lamp log.tiptoe',
      'choice lamp_way in lap sub/note.tiptoe',
      'phrase low_lamp log.tiptoe',
    ]);
    expect(found('LAN')).toEqual([
      'phrase lantern sub/note.tiptoe',
      'game Pier Lanterns game.tiptoe',
    ]);
    expect(found('lr')).toEqual(['spot @ladder in seen log.tiptoe', 'phrase lantern sub/note.tiptoe', 'game Pier Lanterns game.tiptoe']); // prettier-ignore
  });

  test('behind an @ are spots alone', () => {
    expect(found('@la')).toEqual(['spot @lamp log.tiptoe', 'spot @ladder in seen log.tiptoe']);
    expect(found('@lantern')).toEqual([]);
  });

  test('inputs and ways are among them, with what they belong to', () => {
    expect(found('J')).toEqual(['input J in Pier Lanterns game.tiptoe']);
    expect(found('left')).toEqual(['way left in lamp_way sub/note.tiptoe']);
  });

  test('nothing typed fits everything that has a name', () => {
    expect(found('').length).toBe(11);
    expect(workspaceSymbols(analysis, '', 3).length).toBe(3);
  });

  test.each(['lampp', 'pmal', 'zz', 'seen', 'cue'])('nothing fits %s', (query) => {
    expect(found(query)).toEqual([]);
  });
});
