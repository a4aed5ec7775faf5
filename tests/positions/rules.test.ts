import { describe, expect, test } from 'vitest';
import { checkProgram } from '@core/rules/check.js';
import { programOf } from '@core/model/program.js';
import { describe as wordsOf } from '@core/rules/registry.js';
import { labels, withLabels } from '../support/marks.js';

const GAME = 'game "Tin Pier" { clock 60 settle 5 inputs { U = y -1 D = y +1 L = x -1 R = x +1 J = jump } pause P { open 2 dwell 4 resume 2 } }\n'; // prettier-ignore
const POSITIONS = new Set([
  'wrong-landing', 'unknown-landing', 'conflicting-log', 'single-sighting', 'range-differs',
  'never-arrives', 'look-alikes', 'unproven-start', 'rescue-unreachable', 'rescue-ambiguous',
  'off-ground', 'unused-spot',
]); // prettier-ignore

/** Findings of the rules of positions as labels: `rule: title | reason`. */
function findingsOf(text: string) {
  const program = programOf(GAME + text);
  const all = [...checkProgram(program).files.values()].flat();
  const other = all.filter(({ rule, severity }) => severity === 'error' && !POSITIONS.has(rule));
  if (other.length > 0) throw new Error(`the note is wrong: ${other[0]?.rule ?? ''}`);
  return all.filter(({ rule }) => POSITIONS.has(rule)).map((finding) => {
    const { title, reason } = wordsOf(finding);
    const start = finding.span.start - GAME.length;
    return {
      span: { start, end: finding.span.end - GAME.length },
      words: `${finding.rule}: ${title} | ${reason}`,
    };
  }); // prettier-ignore
}

/** The note with what is found drawn in, compared with the note as marked. */
function check(marked: string): void {
  const { text } = labels(marked);
  expect(`\n${withLabels(text, findingsOf(text))}`).toBe(`\n${marked}`);
}

const LOG = `seen {
  @a : U -> @b x4
  @b : U -> @c x5
  @c : U -> @b x6
  @c : R -> @d x4
}
`;
const CUES = 'spot @a "ash"\nspot @b "bell"\nspot @c "crane"\nspot @d "dock"\n';

describe('wrong-landing', () => {
  test('a claim, with the way that led elsewhere', () => {
    check(`${LOG}route r from @a {
  U U @b
      ^^ wrong-landing: the log leads to @c, not to @b | By the rows that were seen most often the way is @a > @b > @c.
}`);
  });
  test('the goal', () => {
    check(`${LOG}route r from @a to @d {
                   ^^ wrong-landing: the log leads to @b, not to @d | By the rows that were seen most often the way is @a > @b.
  U
}`);
  });
  test('the end of a rescue', () => {
    check(`${CUES}${LOG}seen { @a : U -> @d x1
  @d : U -> @c x3 }
route r from @a {
  U @b
}
rescue @d in r { U } -> @b
                        ^^ wrong-landing: the log leads to @c, not to @b | By the rows that were seen most often the way is @d > @c.
`);
  });
  test.each([
    ['a claim that the log bears out', 'from @a { U @b U @c }'],
    ['a goal that the log bears out', 'from @a to @c { U U }'],
    ['a claim on what nobody knows', 'from @a { U @b L @d }', 'unknown-landing'],
    ['a route that says no start', 'to @a { U @d }'],
    ['a rarer landing that is elsewhere', 'from @e { U @b }'],
    ['a route without items', 'from @a to @d { }'],
    ['a claim that an until makes true', 'from @a { U*1+ until @c R @d }'],
  ])('not %s', (_, route, also = '') => {
    const seen = 'seen { @e : U -> @b x5\n  @e : U -> @c x2 }\n';
    const rules = findingsOf(`${CUES}${LOG}${seen}route r ${route}\n`).map(({ words }) => words.split(':')[0]); // prettier-ignore
    expect(rules).toEqual(also === '' ? [] : [also]);
  });
});

/** Notes and the rules of positions that they break, in order. */
function rulesOf(text: string): string[] {
  return findingsOf(text).map(({ words }) => words.split(':')[0] ?? '');
}
function messages(text: string, rule: string): string[] {
  return findingsOf(text).filter(({ words }) => words.startsWith(`${rule}:`)).map(({ span, words }) =>
    `${text.slice(span.start, span.end)} ⟶ ${words.slice(rule.length + 2)}`,
  ); // prettier-ignore
}

interface Cases {
  /** What is found: a note, and the text under the mark with title and reason. */
  readonly bad: readonly (readonly [what: string, note: string, found: readonly string[]])[];
  /** Notes in which the rule finds nothing. */
  readonly good: readonly (readonly [what: string, note: string])[];
}

const YARD = 'spot @a at (0, 0)\nspot @b at (0, 26)\nground yard within (-9, 0) to (9, 20) { D by (0, 13)\n  L by (-5, 0) }\n'; // prettier-ignore
const SLIP = `${CUES}seen { @a : U -> @b x4\n  @a : U -> @d x1\n  @d : L -> @b x2\n  @c : L -> @b x2 }\nroute r from @a { U @b }\n`;

const RULES: Readonly<Record<string, Cases>> = {
  'unknown-landing': {
    bad: [
      ['an item that no row begins with', `${LOG}route r from @a { U L }`, ['L ⟶ the log does not say where L leads from @b | The way there is @a > @b.']],
      ['an item joined to the next', `${LOG}route r from @a { U-R }`, ['U ⟶ the log does not say where U leads from @a | The way there is @a.']],
      ['too short a gap', `${LOG}route r from @a { U .3 U }`, ['U ⟶ the log does not say where U leads from @a | The way there is @a.']],
      ['several places at once', `${LOG}route r from @a @b @d { U*2 }`, ['U*2 ⟶ the log does not say where U*2 leads from @d | The way there is @d.']],
    ],
    good: [
      ['what is claimed behind it', `${LOG}route r from @a { U @b U @c }`],
      ['waits', `${LOG}route r from @a { .40 U .40 ~ }`],
      ['a row over the gap', `${LOG}seen { @a : U .3 U -> @c x2 }\nroute r from @a { U .3 U }`],
      ['a row over what is joined', `${LOG}seen { @a : U-R -> @c x2 }\nroute r from @a { U-R }`],
      ['a gap just long enough', `${LOG}route r from @a { U .5 U }`],
      ['a route that says no start', 'route r { U D L R }'],
      ['a move on open ground', `${YARD}route r from @a { L }`],
      ['a window in front of the next item', 'seen { @a : [U1] -> @b x2\n  @b : R -> @c x2 }\nroute r from @a { [U1] R }'],
    ],
  },
  'conflicting-log': {
    bad: [
      ['a row over two items', `${LOG}seen { @a : U U -> @d x2 }`, ['@a : U U -> @d x2 ⟶ U U from @a leads to @d here, and to @c by its parts | The rows of the single items, one after the other with the movement settled, say otherwise.']],
      ['a row over three', `${LOG}seen { @a : U U R -> @a x2 }`, ['@a : U U R -> @a x2 ⟶ U U R from @a leads to @a here, and to @d by its parts | The rows of the single items, one after the other with the movement settled, say otherwise.']],
      ['a row on open ground', `${YARD}seen { @a : D*2 -> @a x2 }\nspot @z at (0, 13)\nground more within (0, 0) to (1, 1) { U by (1, 1) }`.replace('D*2 -> @a', 'D -> @a'), ['@a : D -> @a x2 ⟶ D from @a leads to @a here, and to @z by its parts | The rows of the single items, one after the other with the movement settled, say otherwise.']],
    ],
    good: [
      ['several landings of the same item', 'seen { @a : U -> @b x2\n  @a : U -> @c x3 }'],
      ['several landings of the same items', `${LOG}seen { @a : U U -> @c x2\n  @a : U U -> @d x2 }`],
      ['a row that its parts bear out', `${LOG}seen { @a : U U R -> @d x2 }`],
      ['parts that nobody knows', `${LOG}seen { @a : U L -> @d x2 }`],
      ['too short a gap to know the parts', `${LOG}seen { @a : U .3 U -> @d x2 }`],
      ['a part with several landings, one of which agrees', `${LOG}seen { @a : U -> @d x1\n  @d : U -> @a x2\n  @a : U U -> @a x2 }`],
    ],
  },
  'single-sighting': {
    bad: [
      ['a row seen once', 'seen { @a : U -> @b }\nroute r from @a { U }', ['U ⟶ U from @a to @b was seen once | The route is followed along this row.']],
      ['two of them, each at its item', 'seen { @a : U -> @b x1\n  @b : R -> @c x1 }\nroute r from @a { U R }', ['U ⟶ U from @a to @b was seen once | The route is followed along this row.', 'R ⟶ R from @b to @c was seen once | The route is followed along this row.']],
      ['a row over several items', 'seen { @a : U-R -> @b }\nroute r from @a { U-R }', ['U ⟶ U-R from @a to @b was seen once | The route is followed along this row.']],
    ],
    good: [
      ['two rows of one sighting each that agree', 'seen { @a : U -> @b\n  @a : U -> @b }\nroute r from @a { U }'],
      ['a row that no route uses', 'seen { @a : U -> @b\n  @a : R -> @b x2 }\nroute r from @a { R }'],
      ['a rarer landing', 'seen { @a : U -> @b x3\n  @a : U -> @c x1 }\nroute r from @a { U }'],
      ['two sightings', 'seen { @a : U -> @b x2 }\nroute r from @a { U }'],
      ['open ground, which needs none', `${YARD}route r from @a { L }`],
      ['a route that says no start', 'seen { @a : U -> @b }\nroute r { U }'],
    ],
  },
  'range-differs': {
    bad: [
      ['a press', 'seen { @a : U2 -> @b x4\n  @a : U3 -> @c x4 }\nroute r from @a { U2..3 }', ['U2..3 ⟶ U2..3 does not land alike | With 2 the log leads to @b, with 3 to @c.']],
      ['a repeat', `${LOG}route r from @a { U*2..4 }`, ['U*2..4 ⟶ U*2..4 does not land alike | With 2 the log leads to @c, with 3 to @b.']],
      ['a window', 'seen { @a : [U1] -> @b x4\n  @a : [U2] -> @c x4 }\nroute r from @a { [U1..2] }', ['U1..2 ⟶ U1..2 does not land alike | With 1 the log leads to @b, with 2 to @c.']],
      ['in front of a claim that puts it right', `${LOG}route r from @a { U*2..3 @c R }`, ['U*2..3 ⟶ U*2..3 does not land alike | With 2 the log leads to @c, with 3 to @b.']],
      ['one count of which nothing is known', 'seen { @a : U2 -> @b x4 }\nroute r from @a { U2..3 }', ['U2..3 ⟶ U2..3 does not land alike | With 2 the log leads to @b, with 3 to an unknown spot.']],
    ],
    good: [
      ['a press that lands alike', 'seen { @a : U2 -> @b x4\n  @a : U3 -> @b x4 }\nroute r from @a { U2..3 }'],
      ['a repeat that stays', 'seen { @a : U -> @b x2\n  @b : U -> @b x2 }\nroute r from @a { U*2..900 }'],
      ['a repeat over a claim, met more or less often', 'seen { @a : U -> @b x2\n  @b : U -> @b x2 }\nroute r from @a { (U @b)*2..20 }'],
      ['a wait', `${LOG}route r from @a { U .6..9 U }`],
      ['rarer landings', 'seen { @a : U2 -> @b x4\n  @a : U3 -> @b x4\n  @a : U3 -> @c x1 }\nroute r from @a { U2..3 }'],
      ['a range of one', `${LOG}route r from @a { U*2..2 }`],
      ['a range of steps of one cycle', `${CUES}${LOG}route r from @b { (U U)*1..9 }`],
      ['counts that all are not known', 'route r from @a { U2..3 }\nseen { @a : R -> @b x2 }'],
      ['a route that says no start', `${LOG}route r { U*2..4 }`],
      ['an until, which has no end of its own', `${CUES}${LOG}route r from @a { U*2+ until @c }`],
    ],
  },
  'never-arrives': {
    bad: [
      ['a cycle without the spot', `${CUES}${LOG}route r from @a { U*1+ until @d }`, ['@d ⟶ @d is never reached from @b | Repeating goes round: @b > @c > @b.']],
      ['behind a tail', `${CUES}${LOG}route r from @a { U*1+ until @a }`, ['@a ⟶ @a is never reached from @b | Repeating goes round: @b > @c > @b.']],
      ['a spot that it stays at', 'seen { @a : U -> @b x2\n  @b : U -> @b x2 }\nspot @z "zinc"\nspot @b "bell"\nroute r from @a { U*1+ until @z }', ['@z ⟶ @z is never reached from @b | Repeating goes round: @b > @b.']],
      ['one start of several', `${CUES}${LOG}seen { @e : U -> @e x2 }\nspot @e "eel"\nroute r from @a @e { U*1+ until @c }`, ['@c ⟶ @c is never reached from @e | Repeating goes round: @e > @e.']],
      ['a long way to the cycle', `${CUES}seen { @a : U -> @b x2\n  @b : U -> @c x2\n  @c : U -> @d x2\n  @d : U -> @c x2 }\nspot @z "zinc"\nroute r from @a { U*1+ until @z }`, ['@z ⟶ @z is never reached from @b | After 1 more it goes round: @c > @d > @c.']],
    ],
    good: [
      ['a spot of the cycle', `${CUES}${LOG}route r from @a { U*1+ until @c }`],
      ['a spot of the tail, met at the minimum', `${CUES}${LOG}route r from @a { U*1+ until @b }`],
      ['what leaves the log', 'spot @c "crane"\nspot @a "ash"\nspot @b "bell"\nseen { @a : U -> @b x2 }\nroute r from @a { U*1+ until @c }'],
      ['any number of starts that all arrive', `${CUES}${LOG}route r from anywhere { U*6+ until @b }`],
      ['a minimum of any size', `${CUES}${LOG}route r from @a { U*999999999+ until @b }`],
      ['a repeat with an end', `${LOG}route r from @a { U*12 }`],
      ['a route that says no start', `${LOG}route r { U*1+ until @d }`],
      ['a spot in a body of several items', `${CUES}${LOG}route r from @b { (U U)*1+ until @b }`],
      ['rows that reach over several times', 'seen { @a : U U -> @b x2\n  @b : U U -> @a x2 }\nspot @a "ash"\nspot @b "bell"\nroute r from @a { U*1+ until @b }'],
      ['the spot where it stands', `${CUES}${LOG}route r from @c { U*2+ until @c }`],
    ],
  },
  'look-alikes': {
    bad: [
      ['the same cue', `spot @b "bell"\nspot @c "bell"\n${LOG}route r from @a { U*1+ until @c }`, ['@c ⟶ @c looks like @b: "bell" | This until is for a player who sees that they stand at @c.']],
      ['no cue', `${LOG}route r from @a { U*1+ until @c }`, ['@c ⟶ nothing tells @c from @b | This until is for a player who sees that they stand at @c.']],
      ['a rescue from a spot like those of the route', SLIP.replace('@d "dock"', '@d "bell"') + 'rescue @d in r { L } -> @b', ['@d ⟶ @d looks like @b: "bell" | This rescue is for a player who sees that they stand at @d.']],
    ],
    good: [
      ['cues that differ', `${CUES}${LOG}route r from @a { U*1+ until @c }`],
      ['a cue beside spots without one', `spot @c "crane"\n${LOG}route r from @a { U*1+ until @c }`],
      ['a cue beside an equal one that is not met', `spot @b "bell"\nspot @c "crane"\nspot @d "crane"\n${LOG}route r from @a { U*1+ until @c }`],
      ['nothing to be told apart', `${LOG}route r from @a { U*1+ until @b }`],
      ['a rescue with a cue of its own', `${SLIP}rescue @d in r { L } -> @b`],
      ['a claim that the log proves', `spot @b "bell"\nspot @c "bell"\n${LOG}route r from @a { U @b }`],
    ],
  },
  'unproven-start': {
    bad: [
      ['a spot that no row begins at', `spot @z\n${LOG}route r from @z { .9 }`, ['@z ⟶ nothing is logged from @z | No row of seen begins there, and it has no place on a ground.']],
      ['a spot that rows only lead to', `${LOG}route r from @d { .9 }`, ['@d ⟶ nothing is logged from @d | No row of seen begins there, and it has no place on a ground.']],
    ],
    good: [
      ['a spot with a row', `${LOG}route r from @a { .9 }`],
      ['a spot on a ground', `${YARD}route r from @a { L }`],
      ['anywhere', `${LOG}route r from anywhere { .9 }`],
      ['no start', `${LOG}route r { .9 }`],
    ],
  },
  'rescue-unreachable': {
    bad: [
      ['a spot that no row leads to', `${SLIP}rescue @c in r { L } -> @b`, ['@c ⟶ the rescue from @c is of no use in r | No logged row leads there from a spot of the route.']],
      ['a spot that the route does not claim', `${SLIP}seen { @d : R -> @c x2 }\nrescue @d in r { R } -> @c`, ['@c ⟶ the rescue from @d is of no use in r | The route nowhere claims @c.']],
    ],
    good: [
      ['a slip of the log', `${SLIP}rescue @d in r { L } -> @b`],
      ['the goal of the route', `${SLIP.replace('from @a {', 'from @a to @b {').replace('U @b', 'U')}rescue @d in r { L } -> @b`],
      ['a spot of another way', `${CUES}seen { @a : U -> @b x4\n  @a : R -> @c x4\n  @c : L -> @b x2\n  @c : U -> @d x2\n  @d : L -> @b x2 }\nroute r from @a { choose w { one { U @b } two { R L @b } } }\nrescue @d in r { L } -> @b`],
      ['a route that is not followed', `${CUES}${LOG}route r { U @b }\nrescue @d in r { L } -> @b`],
    ],
  },
  'rescue-ambiguous': {
    bad: [
      ['two for one spot', `${SLIP}rescue @d in r { L } -> @b\nrescue @d in r { .9 L } -> @b`, ['@d ⟶ the rescue from @d in r is not the only one | Another rescue begins at the same spot.']],
      ['a spot claimed twice', `${SLIP.replace('U @b', 'U @b .9 @b')}rescue @d in r { L } -> @b`, ['@b ⟶ the rescue from @d in r is not the only one | The route claims @b 2 times.']],
    ],
    good: [
      ['one for each spot', `${SLIP.replace('@a : U -> @d x1', '@a : U -> @d x1\n  @a : U -> @c x1')}rescue @d in r { L } -> @b\nrescue @c in r { L } -> @b`],
      ['one for each route', `${SLIP}route s from @a { U @b }\nrescue @d in r { L } -> @b\nrescue @d in s { L } -> @b`],
      ['a spot claimed once a way', `${CUES}seen { @a : U -> @b x4\n  @a : U -> @d x1\n  @a : R -> @b x2\n  @d : L -> @b x2 }\nroute r from @a { choose w { one { U @b } two { R @b } } }\nrescue @d in r { L } -> @b`],
      ['a spot claimed twice that nobody rejoins at', `${CUES}seen { @a : U -> @b x4\n  @a : U -> @d x1\n  @b : R -> @c x2\n  @c : L -> @c x2\n  @d : L -> @c x2 }\nroute r from @a { U @b .9 @b R @c }\nrescue @d in r { L } -> @c`],
    ],
  },
  'off-ground': {
    bad: [
      ['a sum outside, on no spot', `${YARD}route r from @a { L*2 }`, ['L*2 ⟶ L*2 leaves the ground yard from (-5, 0) | The way there is @a > (-5, 0).']],
      ['by more than one axis', `${YARD}route r from @a { L D*2 }`, ['D*2 ⟶ D*2 leaves the ground yard from (-5, 13) | The way there is @a > (-5, 0) > (-5, 13).']],
    ],
    good: [
      ['a sum inside', `${YARD}route r from @a { L D }`],
      ['a sum outside, on a spot', `${YARD}route r from @a to @b { D*2 }`],
      ['the edge', `${YARD.replace('-9', '-10')}route r from @a { L*2 }`],
      ['a ground without an outside', `${YARD.replace(/ within.*\) \{/, ' {')}route r from @a { L*99 }`],
    ],
  },
  'unused-spot': {
    bad: [
      ['a spot that nothing names', `spot @z\n${LOG}`, ['@z ⟶ @z is used nowhere | No row of seen, no route and no rescue names it.']],
      ['one with a cue and a place', `spot @z at (1, 2) "zinc"\n${LOG}`, ['@z ⟶ @z is used nowhere | No row of seen, no route and no rescue names it.']],
    ],
    good: [
      ['a spot that a row leads to', `spot @d\n${LOG}`],
      ['a spot that a route starts from', `spot @z\nroute r from @z { .9 }`],
      ['a spot that is claimed', `spot @z\nroute r { .9 @z }`],
      ['a spot that an until waits for', `spot @z\nroute r { U*1+ until @z }`],
      ['a goal', `spot @z\nroute r to @z { .9 }`],
      ['a claim deep in a group', `spot @z\nroute r { ((U @z)*2 .9)*2 }`],
    ],
  },
}; // prettier-ignore

describe.each(Object.entries(RULES))('%s', (rule, { bad, good }) => {
  test.each(bad)('%s', (_, note, found) => {
    expect(messages(`${note}\n`, rule)).toEqual(found);
  });
  test.each(good)('not %s', (_, note) => {
    expect(rulesOf(`${note}\n`)).not.toContain(rule);
  });
});
