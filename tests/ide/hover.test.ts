import { describe, expect, test } from 'vitest';
import { hover } from '@core/ide/hover.js';
import { atCursor } from './at.js';

/** The hover at the cursor holds each of the texts; without any there is none. */
function check(marked: string, about: string | undefined, ...texts: readonly string[]): void {
  const { analysis, path, offset, text } = atCursor(marked);
  const found = hover(analysis, path, offset);
  if (about === undefined) {
    expect(found).toBeUndefined();
    return;
  }
  expect(found && text.slice(found.span.start, found.span.end)).toBe(about);
  for (const each of texts) expect(found?.text).toContain(each);
}

const route = (body: string, head = 'from @reed to @past'): string =>
  `use "log.tiptoe"\nroute cross ${head} {\n  ${body}\n}\n`;

describe('hover on an item', () => {
  test('a press: frames, time, place on the clock', () => {
    check(route('U D|3 R'), 'D3', 'hold D for 3 frames (60 ms)', '`D`: y at 1', '**3 ticks, 3 frames, 60 ms**: ticks 8 to 10, frames 8 to 10'); // prettier-ignore
  });
  test('where it starts and lands, on how many sightings', () => {
    check(route('|U [U1]'), 'U', 'From @reed to @past and @rush, on 24 sightings in 2 rows.');
  });
  test('a range and a length in time', () => {
    check(route('D|3..4'), 'D3..4', 'hold D for 3 to 4 frames (60 ms to 80 ms)');
    check(route('J .4|00ms'), '.400ms', 'hold nothing for 20 frames', 'ticks 1 to 20');
    check(route('J .4|10ms'), '.410ms', '20.500 frames, which is no whole number');
  });
  test('a wait until settled takes what is left of it', () => {
    check(route('U .3 ~|'), '~', 'up to 7 neutral frames', '**4 ticks, 4 frames, 80 ms**: ticks 4 to 7'); // prettier-ignore
  });
  test('a pause, a window in it and its cue', () => {
    check(route('|[U1]'), '[U1]', 'pause, 1 window', '**27 ticks, 1 frame, 540 ms**', 'From @reed to @tern, on 9 sightings in 1 row'); // prettier-ignore
    check(route('[U|1]'), 'U1', 'in a window of the pause', '**14 ticks, 1 frame', '1 frame after the press: lamp level'); // prettier-ignore
    check(route('U1-[U|1]'), 'U1', '2 frames after the press: lamp high');
  });
  test('a repeat until a spot, with how often each start needs', () => {
    check(route('U*2+| until @reed', 'from @reed @rush'), 'U*2+ until @reed', '2 times at least, until you see that you stand at @reed', 'from @rush: 3 times', 'in the nominal run'); // prettier-ignore
  });
  test('a phrase is written out and measured', () => {
    check(`let two = shuffle*2 D\n${route('U t|wo')}`, 'two', 'let two = shuffle*2 D', 'Written out: `(R U U)*2 D`'); // prettier-ignore
  });
  test('inside groups, holds, ways and phrases', () => {
    check(route('U (R D|2)*3'), 'D2', 'hold D for 2 frames', '**2 ticks');
    check(route('D&(.4 J| .3)'), 'J', '**1 tick, 1 frame, 20 ms**');
    check(route('choose end { slow { U } fast { R|4 } }'), 'R4', 'hold R for 4 frames');
    check('use "game.tiptoe"\nlet hop = J .2 D|5', 'D5', '**5 ticks');
  });
  test('inside a declaration that is broken further on', () => {
    check(route('U D|3 ) ] nonsense *'), 'D3', 'hold D for 3 frames', 'ticks 8 to 10');
  });
  test('says nothing of what it does not know', () => {
    check('use "game.tiptoe"\nroute a { no|ne }', 'none', 'There is no such phrase');
    check(route('U   |   D'), undefined);
    check('route a { U "a no|te" }', undefined);
    check('route a { U # a re|mark\n}', undefined);
    check('|', undefined);
  });
});

describe('hover on a name', () => {
  test('a spot: its declaration and its rows', () => {
    check(route('U @re|ed'), '@reed', 'spot @reed at (412, 88) "toe on the last plank"', '- `U` → @rush x22, @past x2, of 24 sightings', '- `[U1]` → @tern x9', '- @rush `U` x20'); // prettier-ignore
    check('seen { @a : U -> @|b }', '@b', 'Known from the log only', '@a `U` x1');
  });
  test('a phrase with its docs, a route with its length', () => {
    check('use "game.tiptoe"\n## Over.\nlet h|op = J .2 D', 'hop', 'Over.', 'By itself 4 ticks');
    check(`${route('J20')}rescue @snag in cro|ss { J } -> @past`, 'cross', 'route cross from @reed to @past', '20 ticks, 20 frames, 0.4 s'); // prettier-ignore
  });
  test('inputs where the game declares them', () => {
    check('game "Ferry" { clock 50 inputs { |W = y -0.5 "half" } }', 'W', '`W`: y at \\-0.5, half');
    check('game "Ferry" { clock 50 inputs { W = |y -0.5 S = y +1 } }', 'y', 'an axis', '- `S`');
    check('game "Ferry" { clock 50 pause |P { open 4 dwell 9 } }', 'P', 'no press for 4 ticks');
  });
  test('does not apply to a spot that nobody knows', () => {
    check('route a { U @no|where }', undefined);
  });
});

describe('hover on words', () => {
  test('a rule in a silence', () => {
    check('route a { U # tiptoe: allow unset|tled, pinch because so\n}', 'unsettled', '# unsettled', '## Why'); // prettier-ignore
    check('route a { U # tiptoe: allow unsettled, pin|ch because so\n}', 'pinch', '# pinch');
    check('route a { U # tiptoe: allow pinch because pin|ch\n}', undefined);
    check('route a { U # tiptoe: allow nonse|nse because so\n}', undefined);
  });
  test('settings and words of the language', () => {
    check('game "Ferry" { clo|ck 50 }', 'clock', '`clock ticks`', 'ticks a second');
    check('game "Ferry" { clock 50 inpu|ts { U = y 1 } }', 'inputs', 'The letters');
    check('game "Ferry" { clock 50 pause P { dw|ell 9 } }', 'dwell', 'waits in the menu');
    check('hands { mi|ss 1% }', 'miss', 'does not happen');
    check('rou|te a { U }', 'route', 'A setup');
    check('spot @a pau|sed', 'paused', 'state inside a pause');
    check('use "ro|ute.tiptoe"', undefined);
  });
});
