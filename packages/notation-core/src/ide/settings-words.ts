/**
 * What declarations take and what words mean, for help while writing. The language itself is
 * in the model and the rules; a test holds this table against both.
 */
export interface SettingWords {
  readonly key: string;
  /** Each value as it is called, in order. */
  readonly values: readonly { readonly name: string; readonly what: string }[];
  readonly what: string;
  /** Text to insert; `${1:…}` are places to fill in (LSP 3.17, snippet syntax). */
  readonly snippet: string;
}

export type SettingPlace = 'game' | 'pause' | 'hands';

export const SETTINGS: Readonly<Record<SettingPlace, readonly SettingWords[]>> = {
  game: [
    {
      key: 'clock',
      values: [{ name: 'ticks', what: 'ticks a second: 50, 59.94 or 30000/1001' }],
      what: 'How often a second the controller is read, paused or not.',
      snippet: 'clock ${1:60}',
    },
    {
      key: 'settle',
      values: [{ name: 'frames', what: 'a whole number of neutral frames' }],
      what: 'Neutral frames until a movement has run its course; what `~` waits for.',
      snippet: 'settle ${1:7}',
    },
    {
      key: 'pace',
      values: [{ name: 'wait', what: '`~`, or a wait such as `.2`' }],
      what: 'What a space between two items means. `~` where `settle` is given and nothing else said.',
      snippet: 'pace ${1:~}',
    },
    {
      key: 'inputs',
      values: [{ name: '{ … }', what: 'lines such as `D = y +1` or `J = jump`' }],
      what: 'The letters: an axis with a value on it, or a button by its name.',
      snippet: 'inputs {\n\t${1:U = y -1}\n}',
    },
    {
      key: 'pause',
      values: [
        { name: 'letter', what: 'the pause input, one capital letter' },
        { name: '{ … }', what: '`open`, `dwell` and `resume`, in ticks' },
      ],
      what: 'The pause input and how long its menu takes.',
      snippet: 'pause ${1:P} { open ${2:4}  dwell ${3:10}  resume ${4:2} }',
    },
    {
      key: 'cue',
      values: [
        { name: 'frames', what: 'frames since the press' },
        { name: '"look"', what: 'what can be seen then' },
      ],
      what: 'What tells the player how many frames have run since a press.',
      snippet: 'cue ${1:0} "${2:what it looks like}"',
    },
  ],
  pause: [
    {
      key: 'open',
      values: [{ name: 'ticks', what: 'a whole number; 0 where it is left out' }],
      what: 'Ticks after the pausing tick on which the menu takes no press.',
      snippet: 'open ${1:4}',
    },
    {
      key: 'dwell',
      values: [{ name: 'ticks', what: 'a whole number, at least `open` and at least 1' }],
      what: 'Ticks that the player waits in the menu.',
      snippet: 'dwell ${1:10}',
    },
    {
      key: 'resume',
      values: [{ name: 'ticks', what: 'a whole number; 1 where it is left out' }],
      what: 'Ticks from the unpausing press until a frame runs again.',
      snippet: 'resume ${1:2}',
    },
  ],
  hands: [
    {
      key: 'spread',
      values: [
        { name: 'length', what: 'a length in time such as `9ms`' },
        { name: 'press length pause length', what: 'or one of each: `press 6ms pause 11ms`' },
      ],
      what: 'How far press lengths scatter around what is written (standard deviation).',
      snippet: 'spread ${1:9ms}',
    },
    {
      key: 'bias',
      values: [{ name: 'length', what: 'a length in time such as `2ms` or `-2ms`' }],
      what: 'How much longer than written presses come out on average.',
      snippet: 'bias ${1:2ms}',
    },
    {
      key: 'shape',
      values: [{ name: 'word', what: '`normal` or `lognormal`' }],
      what: 'The distribution of press lengths.',
      snippet: 'shape ${1|normal,lognormal|}',
    },
    {
      key: 'latch',
      values: [],
      what: 'The game holds a press until it is read, so that no tap is missed between two ticks.',
      snippet: 'latch',
    },
    {
      key: 'miss',
      values: [{ name: 'share', what: 'a percentage such as `0.5%`' }],
      what: 'How often a press does not happen at all.',
      snippet: 'miss ${1:0.5%}',
    },
    {
      key: 'notice',
      values: [{ name: 'share', what: 'a percentage such as `95%`' }],
      what: 'How often the player sees a cue that is there.',
      snippet: 'notice ${1:95%}',
    },
    {
      key: 'reset',
      values: [{ name: 'length', what: 'a length in time such as `14s`' }],
      what: 'What starting again costs.',
      snippet: 'reset ${1:14s}',
    },
    {
      key: 'look',
      values: [{ name: 'length', what: 'a length in time such as `300ms`' }],
      what: 'How long it takes to look where the character stands.',
      snippet: 'look ${1:300ms}',
    },
    {
      key: 'patience',
      values: [{ name: 'times', what: 'a whole number such as `30`' }],
      what: 'Repetitions of an `until` after which the player starts again.',
      snippet: 'patience ${1:30}',
    },
  ],
};

export interface KeywordWords {
  readonly word: string;
  readonly form: string;
  readonly what: string;
  readonly snippet: string;
}

export const DECLARATIONS: readonly KeywordWords[] = [
  {
    word: 'use',
    form: 'use "PATH"',
    what: 'Brings in the names of another file; the path is relative to this one.',
    snippet: 'use "${1:game.tiptoe}"',
  },
  {
    word: 'game',
    form: 'game "TITLE" { … }',
    what: 'The game: its clock, inputs and pause.',
    snippet:
      'game "${1:Title}" {\n\tclock ${2:60}\n\tsettle ${3:7}\n\tinputs {\n\t\t${4:U = y -1}\n\t}\n}',
  },
  {
    word: 'hands',
    form: 'hands [NAME] { … }',
    what: 'The player: how exact, how quick to notice, what starting again costs.',
    snippet: 'hands {\n\tspread ${1:9ms}\n\treset ${2:14s}\n}',
  },
  {
    word: 'spot',
    form: 'spot @NAME [paused] [at (X, Y)] ["LOOK"]',
    what: 'A place, and state, that the character can be in, with what it looks like.',
    snippet: 'spot @${1:name} "${2:what it looks like}"',
  },
  {
    word: 'let',
    form: 'let NAME = ITEMS',
    what: 'A phrase: a name for items.',
    snippet: 'let ${1:name} = ${0}',
  },
  {
    word: 'seen',
    form: 'seen { @FROM : ITEMS -> @TO xTIMES … }',
    what: 'The log: what was tried, where it led, how often.',
    snippet: 'seen {\n\t@${1:from} : ${2:U} -> @${3:to} x${4:1}\n}',
  },
  {
    word: 'ground',
    form: 'ground NAME within (X, Y) to (X, Y) { ITEM by (X, Y) … }',
    what: 'Open ground, where an item adds the same wherever one stands.',
    snippet:
      'ground ${1:name} within (${2:0, 0}) to (${3:100, 100}) {\n\t${4:U} by (${5:0, -10})\n}',
  },
  {
    word: 'route',
    form: 'route NAME ["TITLE"] [from SPOTS | from anywhere] [to @GOAL] { … }',
    what: 'A setup: a sequence from a set of start spots to a goal.',
    snippet: 'route ${1:name} "${2:Title}" from @${3:start} to @${4:goal} {\n\t${0}\n}',
  },
  {
    word: 'rescue',
    form: 'rescue @SPOT in ROUTE { … } -> @REJOIN',
    what: 'What to do on finding oneself at a spot off the route, and where it rejoins.',
    snippet: 'rescue @${1:spot} in ${2:route} { ${3} } -> @${4:rejoin}',
  },
];

export const WORDS: readonly KeywordWords[] = [
  {
    word: 'choose',
    form: 'choose NAME { WAY { … } WAY { … } }',
    what: 'A place where the player picks one of several ways.',
    snippet: 'choose ${1:name} {\n\t${2:one} { ${3} }\n\t${4:other} { ${5} }\n}',
  },
  {
    word: 'pace',
    form: 'pace WAIT',
    what: 'What a space means from here to the end of the group or block.',
    snippet: 'pace ${1:.2}',
  },
  {
    word: 'until',
    form: 'ITEM*N+ until @SPOT',
    what: 'Repeats until the player sees that they stand at the spot.',
    snippet: 'until @${1:spot}',
  },
  { word: 'by', form: 'ITEM by (X, Y)', what: 'What an item adds to the coordinates.', snippet: 'by (${1:0, -10})' },
  { word: 'from', form: 'from SPOTS | from anywhere', what: 'Where a route starts. Without it positions are not followed.', snippet: 'from @${1:start}' },
  { word: 'to', form: 'to @GOAL', what: 'The goal of a route, or the far corner of a ground.', snippet: 'to @${1:goal}' },
  { word: 'in', form: 'rescue @SPOT in ROUTE', what: 'The route that a rescue belongs to.', snippet: 'in ${1:route}' },
  { word: 'at', form: 'at (X, Y)', what: 'The coordinates of a spot.', snippet: 'at (${1:0, 0})' },
  { word: 'paused', form: 'spot @NAME paused', what: 'The spot is a state inside a pause.', snippet: 'paused' },
  { word: 'within', form: 'within (X, Y) to (X, Y)', what: 'The corners of a ground.', snippet: 'within (${1:0, 0}) to (${2:100, 100})' },
  { word: 'anywhere', form: 'from anywhere', what: 'Every spot with a row in the log that is not paused and not the goal.', snippet: 'anywhere' },
]; // prettier-ignore
