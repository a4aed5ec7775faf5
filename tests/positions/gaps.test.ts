import { programOf } from '@core/model/program.js';
import { scopeOf, type Scope } from '@core/model/scope.js';
import { Resolver } from '@core/model/resolve.js';
import { type Gap, type GapsOptions, findGaps } from '@core/positions/gaps.js';
import { directionsOf, menuOf } from '@core/positions/menu.js';
import { nominalRoute } from '@core/positions/nominal.js';
import { alongRoute, ticksAt } from '@core/positions/remaining.js';
import { buildTimeline } from '@core/timeline/build.js';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { items } from '../support/generate.js';

function scopeFor(text: string): Scope {
  const program = programOf(text);
  const [file] = program.files.values();
  if (file === undefined) throw new Error('the note is there');
  return scopeOf(program, file);
}

const game = (resume = 2, more = '') => `game "Kiln Runner" {
  clock 60
  settle 6
  inputs { U = y -1   D = y +1   L = x -1   R = x +1   ${more} J = jump   S = strike }
  pause P { open 4  dwell 8  resume ${resume} }
}
`;
const ONE: GapsOptions = { frames: 1, exit: 'J' };
const gapsOf = (text: string, options: GapsOptions = ONE) => findGaps(scopeFor(text), options);
const listOf = (text: string, options: GapsOptions = ONE): Gap[] => [
  ...gapsOf(text, options).ranked(),
];
const itemsFrom = (text: string, spot: string, options: GapsOptions = ONE) =>
  listOf(text, options)
    .filter((gap) => gap.spot === spot)
    .map((gap) => gap.move.items);

describe('the menu', () => {
  const menu = (text: string, options: GapsOptions = ONE) => menuOf(scopeFor(text).game, options);
  const oneFrame = (text: string, options?: GapsOptions) =>
    menu(text, options).running.filter((move) => move.frames === 1);

  test('holds eight directions: four values and four chords of two axes', () => {
    expect(directionsOf(scopeFor(game()).game)).toEqual([
      'U', 'D', 'L', 'R', 'UL', 'UR', 'DL', 'DR',
    ]); // prettier-ignore
  });

  // Common practice, no source: eight directions are eight one-frame moves, sixteen with the pause
  // buffer, twenty-four with a jump out of the pause.
  test.each([
    ['plain', game().replace(/pause.*\n/, ''), {}, 8],
    ['buffered', game(), {}, 16],
    ['with a jump out of the pause', game(), { exit: 'J' }, 24],
  ])('has so many one-frame moves %s', (_, text, options, moves) => {
    const list = oneFrame(text, { frames: 1, ...options });
    expect(list).toHaveLength(moves);
    expect(new Set(list.map((move) => move.items)).size).toBe(moves);
  });

  test('writes each form as the notation does', () => {
    const list = menu(game(), { frames: 2, exit: 'J' });
    const ofR = (moves: typeof list.running) =>
      moves.filter((move) => move.letters === 'R').map((move) => move.items);
    expect(ofR(list.running)).toEqual([
      'R0-[]', 'R0-[]-J', '[R0]', '[R0]-J', 'R', '[R1]', '[R1]-J', 'R2', '[R2]', '[R2]-J',
    ]); // prettier-ignore
    expect(ofR(list.paused)).toEqual([
      '[R0]', '[R0]-J', '[R1]', '[R1]-J', '[]-R1', '[R2]', '[R2]-J', '[]-R2',
    ]); // prettier-ignore
    expect(list.paused.slice(0, 2).map((move) => move.items)).toEqual(['[]', '[]-J']);
  });

  test('takes a stick position as a direction of its own, in chords with other axes', () => {
    const { game: read } = scopeFor(game(2, 'W = y -0.5'));
    expect(directionsOf(read)).toEqual([
      'U', 'D', 'L', 'R', 'W', 'UL', 'UR', 'DL', 'DR', 'LW', 'RW',
    ]); // prettier-ignore
  });

  test('adds buttons that are asked for, alone and with each direction', () => {
    const list = oneFrame(game(), { frames: 1, buttons: 'S' }).filter(
      (move) => move.form === 'press',
    );
    expect(list).toHaveLength(8 + 1 + 8);
    expect(list.map((move) => move.items)).toContain('URS');
  });

  test.each([
    // resume, zero-frame windows, one-frame windows: two presses of the pause need a tick between.
    [0, false, false],
    [1, false, true],
    [2, true, true],
  ])('with resume %i has [D0]: %s, [D1]: %s', (resume, zero, one) => {
    const all = menu(game(resume), { frames: 2 }).running.map((move) => move.items);
    expect(all.includes('[D0]')).toBe(zero);
    expect(all.includes('[D1]')).toBe(one);
    expect(all).toContain('D0-[]');
    expect(all).toContain('[D2]');
  });

  test('has no window where the menu closes on the tick that opened it', () => {
    const text = game().replace('open 4  dwell 8', 'open 0  dwell 0');
    expect(menu(text).running.map((move) => move.form)).toEqual(Array(8).fill('press'));
  });

  test('is empty in a game without directions', () => {
    const text = 'game "Still" { clock 60  settle 2  inputs { J = jump } }\nspot @a\n';
    expect(menu(text)).toEqual({ running: [], paused: [] });
    expect(listOf(text)).toEqual([]);
  });
});

describe('what was tried', () => {
  const seen = (rows: string, more = '') => `${game()}${more}seen {\n${rows}\n}\n`;

  test.each([
    ['a plain row', '@a : U -> @b', 'U'],
    ['a count that is written out', '@a : U1 -> @b', 'U'],
    ['letters in another order', '@a : LU -> @b', 'UL'],
    ['a length in time', '@a : U16.666666ms -> @b', undefined],
    ['a wait written behind it', '@a : U .9 -> @b', 'U'],
    ['a settling written behind it', '@a : [U1] ~ -> @b', '[U1]'],
    ['a group around it', '@a : (U) -> @b', 'U'],
    ['a phrase of it', '@a : hop -> @b', '[R1]-J'],
    ['a longer row', '@a : U D -> @b', undefined],
    ['a wait in front of it', '@a : .4 U -> @b', undefined],
    ['no items', '@a : -> @b', undefined],
    ['no landing', '@a : U ->', undefined],
  ])('%s', (_, row, item) => {
    const text = seen(row, 'let hop = [R1]-J\n');
    const none = itemsFrom(seen('@a : S -> @b'), 'a');
    const left = itemsFrom(text, 'a');
    expect(none.filter((each) => !left.includes(each))).toEqual(item === undefined ? [] : [item]);
  });

  test('a row that stays in the pause is the move as well as one that leaves it', () => {
    const text = seen('@a : U0-[] -> @p\n@a : [D1] -> @p\n@p : [R1] -> @p\n@p : [L1] -> @a', 'spot @p paused\n'); // prettier-ignore
    const fromA = itemsFrom(text, 'a');
    expect(fromA).not.toContain('U0-[]');
    expect(fromA).not.toContain('[D1]');
    expect(fromA).toContain('[U1]');
    const fromP = itemsFrom(text, 'p');
    expect(fromP).not.toContain('[R1]');
    expect(fromP).not.toContain('[L1]');
    expect(fromP).toContain('[U1]');
    expect(fromP).not.toContain('U');
  });

  test('counts by frames what was tried', () => {
    const text = seen('@a : U -> @b\n@a : [D1] -> @b\n@a : DR -> @b\n@a : [L1]-J -> @a\n@a : R -> @a\n@a : R2 -> @a'); // prettier-ignore
    const [a, b] = gapsOf(text).spots;
    expect(a?.counts).toEqual([
      { frames: 0, of: 32, tried: 0, known: 0 },
      { frames: 1, of: 24, tried: 5, known: 0 },
    ]);
    expect(b?.counts[1]).toEqual({ frames: 1, of: 24, tried: 0, known: 0 });
  });

  test('open ground answers for its moves where they end on it', () => {
    const ground = 'ground yard within (0, 0) to (10, 10) { U by (0, 5)  [U1] by (0, 50) }\n';
    const text = seen('@a : S -> @a', `spot @a at (5, 5)\n${ground}`);
    const left = itemsFrom(text, 'a');
    expect(left).not.toContain('U');
    expect(left).toContain('[U1]');
    expect(gapsOf(text).spots[0]?.counts[1]).toEqual({ frames: 1, of: 24, tried: 0, known: 1 });
  });

  test('names spots that are only declared, only landed on, or only claimed', () => {
    const text = `${seen('@a : U -> @b', 'spot @c at (1, 2)\n')}route r from @a to @e { U @b D @d }\n`;
    expect(gapsOf(text).spots.map((each) => each.spot)).toEqual(['c', 'a', 'b', 'd']);
  });

  test('of a random log: a logged move is never listed, and is gone once it is logged', () => {
    const spots = ['a', 'b', 'c', 'p'];
    const declared = 'spot @p paused\n';
    const full = seen('', `${declared}spot @a\nspot @b\nspot @c\n`);
    const universe = listOf(full, { frames: 2, exit: 'J' });
    const key = (gap: Gap) => `${gap.spot} ${gap.move.items}`;
    // A bare pause between two spots inside one is no row at all.
    const row = fc
      .tuple(fc.nat(universe.length - 1), fc.constantFrom(...spots))
      .filter(([k, to]) => to !== 'p' || universe[k]?.move.items !== '[]');
    fc.assert(
      fc.property(fc.array(row, { maxLength: 40 }), (picks) => {
        const rows = picks.map(([k, to]) => `@${universe[k]?.spot} : ${universe[k]?.move.items} -> @${to}`); // prettier-ignore
        const text = full.replace('seen {\n', `seen {\n${rows.join('\n')}`);
        const left = new Set(listOf(text, { frames: 2, exit: 'J' }).map(key));
        const logged = new Set(picks.map(([k]) => key(universe[k] as Gap)));
        expect(left.size).toBe(universe.length - logged.size);
        for (const gap of universe) expect(left.has(key(gap))).toBe(!logged.has(key(gap)));
      }),
      { numRuns: 60 },
    );
  });
});

describe('the ranking', () => {
  const note = `${game()}
spot @p paused
seen {
  @a : U -> @b
  @b : [D1] -> @c
  @c : R4 -> @d
}
route long from @a to @d { U @b [D1] @c R4 @d }
route short from @c to @d { R4 @d }
spot @far
`;

  test('says by how much the nominal route gets shorter, tick for tick', () => {
    // The route itself, and the same with one move in place of the rest.
    const whole = (text: string) => {
      const scope = scopeFor(text);
      const route = scope.routes.get('long');
      if (route === undefined) throw new Error('the route is there');
      const { sequence } = nominalRoute(route.declaration, route.unit, scope);
      const timeline = buildTimeline(sequence, scope.game);
      return 'tooLong' in timeline ? NaN : timeline.ticks;
    };
    const base = whole(note);
    let checked = 0;
    for (const gap of listOf(note, { frames: 3, exit: 'J', spots: ['b'] })) {
      const shorter = note.replace('{ U @b [D1] @c R4 @d }', `{ U @b ${gap.move.items} @d }`);
      expect(gap.saves).toBe(base - whole(shorter));
      const next = note.replace('U @b [D1] @c', `U @b ${gap.move.items} @c`);
      expect(gap.next).toEqual({ spot: 'c', saves: base - whole(next) });
      checked++;
    }
    expect(checked).toBe(32 + 24 + 24 + 24 - 1);
  });

  test('takes the route of which most is left, from where a spot is first met', () => {
    const on = new Map(gapsOf(note).spots.map((each) => [each.spot, each.on]));
    expect([...on.keys()]).toEqual(['p', 'far', 'a', 'b', 'c', 'd']);
    expect(['a', 'b', 'far'].map((spot) => on.get(spot)?.route)).toEqual(['long', 'long', undefined]); // prettier-ignore
    expect(on.get('c')).toEqual({ route: 'long', goal: 'd', ticks: 4 });
    expect(on.get('d')).toEqual({ route: 'long', goal: 'd', ticks: 0 });
  });

  test('puts what saves most first, then spots off every route, then what saves nothing', () => {
    const list = listOf(note);
    const saves = list.map((gap) => gap.saves);
    const off = saves.indexOf(undefined);
    const rest = saves.lastIndexOf(undefined) + 1;
    expect(off).toBeGreaterThan(0);
    expect(rest).toBeLessThan(saves.length);
    const sorted = (part: (number | undefined)[]) =>
      part.every((each, i) => i === 0 || (part[i - 1] ?? NaN) >= (each ?? NaN));
    expect(sorted(saves.slice(0, off))).toBe(true);
    expect(saves.slice(0, off).every((each) => (each ?? 0) > 0)).toBe(true);
    expect(saves.slice(off, rest).every((each) => each === undefined)).toBe(true);
    expect(saves.slice(rest).every((each) => (each ?? 1) <= 0)).toBe(true);
    expect(sorted(saves.slice(rest))).toBe(true);
    expect(list[0]?.spot).toBe('a');
  });

  test('counts a pause that stays open as that for a goal inside it', () => {
    const text = `${game()}spot @p paused\nseen { @a : U D -> @b }\nroute r from @a to @p { U D [R1 @p] }\n`;
    const gaps = listOf(text, { frames: 1, exit: 'J', spots: ['a'] });
    const of = (item: string) => gaps.find((gap) => gap.move.items === item)?.saves ?? NaN;
    // Leaving takes resume ticks, jumping one more.
    expect(of('[U1]') - of('[U1]-J')).toBe(2 + 1);
  });

  test('follows a route through its log, its phrases, its ways and its cycles', () => {
    const text = `${game()}let two = U U
seen { @a : U -> @b  @b : U -> @c  @c : U -> @b  @b : L -> @e  @e : D -> @g }
route r from @a to @g { two*1000000000000 U until @b  L choose end { one { D } other { D2 } } @g }
`.replace('U until', 'U*1+ until');
    const spots = new Map(gapsOf(text).spots.map((each) => [each.spot, each.on?.ticks]));
    expect(spots.get('e')).toBe(1);
    expect(spots.get('g')).toBe(0);
    // The repeat passes b and ends on c, one tap before the L from b.
    const rest = (1 + 6) + (1 + 6) + 1; // prettier-ignore
    expect(spots.get('c')).toBe(rest);
    expect(spots.get('b')).toBe(2_000_000_000_000 * (1 + 6) + rest);
    expect(spots.get('a')).toBe(spots.get('b'));
  });

  test('from anywhere takes a spot where the course meets it, inside an item where that begins', () => {
    const text = `${game()}let climb = U R U
seen {
  @a : L -> @b  @b : U -> @c  @c : R -> @d  @d : U -> @e  @e : D9 -> @g  @far : S -> @b
}
route r from anywhere to @g { L climb D9 @g }
`;
    const left = new Map(gapsOf(text).spots.map((each) => [each.spot, each.on?.ticks]));
    const whole = 1 + 6 + (1 + 6) * 3 + 9;
    expect(left.get('a')).toBe(whole);
    expect(left.get('b')).toBe(whole - 7);
    expect(left.get('c')).toBe(whole - 7);
    expect(left.get('d')).toBe(whole - 7);
    expect(left.get('e')).toBe(9);
    expect(left.get('far')).toBe(whole);
  });

  test('ranks nothing on a route without a start, or longer than numbers are exact', () => {
    const text = (route: string) => `${game()}seen { @a : U -> @a }\nroute r ${route}\n`;
    for (const route of ['to @a { U }', 'from @a to @a { ((U*1000000000)*1000000000) }']) {
      expect(gapsOf(text(route)).spots[0]?.on).toBeUndefined();
      expect(listOf(text(route)).every((gap) => gap.saves === undefined)).toBe(true);
    }
  });

  test('keeps to the spots and the route that are asked for', () => {
    expect(gapsOf(note, { ...ONE, spots: ['b', 'nowhere'] }).spots.map((s) => s.spot)).toEqual(['b']); // prettier-ignore
    expect(gapsOf(note, { ...ONE, route: 'short' }).spots.map((s) => s.spot)).toEqual(['c', 'd']);
    expect(gapsOf(note, { ...ONE, route: 'none' }).spots).toEqual([]);
  });
});

describe('ticks in front of a step', () => {
  test('are those of the whole route, for random routes cut at random places', () => {
    const body = items({ depth: 2, phrases: [], route: false }).map((skeleton) =>
      skeleton.replaceAll('\u0001', ' ').replaceAll('\u0002', ''),
    );
    fc.assert(
      fc.property(body, fc.array(fc.nat(30)), (written, places) => {
        const scope = scopeFor(`${game(2, 'W = y -0.5')}route r from @a { ${written} }\n`);
        const route = scope.routes.get('r');
        if (route === undefined) throw new Error('the route is there');
        const { steps } = new Resolver(scope).resolve(route.declaration.body, route.unit);
        const measure = (part: typeof steps) => {
          const sequence = { steps: part, first: undefined, last: undefined };
          const timeline = buildTimeline(sequence, scope.game);
          return 'tooLong' in timeline ? NaN : timeline.ticks;
        };
        const cuts = places.map((place) => place % (steps.length + 1));
        for (const [cut, ticks] of ticksAt(steps, cuts, measure)) {
          expect(ticks).toBe(measure(steps.slice(0, cut)));
        }
      }),
      { numRuns: 400 },
    );
  });

  test('cost one look at each stretch, however many cuts there are', () => {
    const text = `${game()}seen { @a : U -> @b  @b : U -> @a }\nroute r from @a { ${'U @b (.2 .3) U @a '.repeat(3000)} }\n`; // prettier-ignore
    const scope = scopeFor(text);
    const route = scope.routes.get('r');
    if (route === undefined) throw new Error('the route is there');
    let looked = 0;
    const { steps } = new Resolver(scope).resolve(route.declaration.body, route.unit);
    ticksAt(steps, Array.from(steps.keys()), (part) => {
      looked += part.length;
      return part.length;
    });
    expect(looked).toBeLessThan(steps.length * 12);
    expect(alongRoute(route.declaration, route.unit, scope).map((on) => on.spot)).toHaveLength(2);
  });
});
