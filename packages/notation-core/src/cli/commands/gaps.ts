import type { Game } from '../../model/game.js';
import type { Scope } from '../../model/scope.js';
import { type Gaps, findGaps } from '../../positions/gaps.js';
import { type MenuOptions, directionsOf, exitOf } from '../../positions/menu.js';
import { nearest } from '../../text/suggest.js';
import { type Call, type Command, OUTPUT_OPTIONS, SIZE_OPTION } from '../command.js';
import { EXIT, type ExitCode, Trouble, troubleLine } from '../exit.js';
import { type GapsForm, csv, json, markdown, table } from '../gaps/forms.js';
import { openNote } from '../note.js';
import type { Options } from '../options.js';
import { openOutput } from '../output.js';
import { Progress } from '../progress.js';
import { report } from '../report.js';
import { painter, plain } from '../screen.js';

const FORMS: Readonly<Record<string, GapsForm>> = { table, csv, json, md: markdown };
/** Rows for reading, where no limit is given; a sheet or JSON holds them all. */
const READ_AT_ONCE = 20;

export const command: Command = {
  name: 'gaps',
  summary: 'List the moves that nobody has tried yet, the most promising first',
  details: [
    'The moves come from the game: each direction, and each two directions on different axes, pressed (D), buffered through a pause ([D1]), and buffered with a jump out of the pause ([D1]-J), for 0 up to --frames frames; what no pause allows is left out. From inside a pause they are windows and ways to leave it.',
    'Gaps are ranked by what a success would save: by how many ticks the nominal route would be shorter if the move led from its spot straight to the end of the route. That is the most that it can save, not what to expect of it. Spots off every route follow in the order of the log, then moves that could save nothing.',
    'With --format csv the list is a sheet: fill in landing, count and notes at the console, and tiptoe log reads it back into the note. Spots stand in it without @, which spreadsheets take for a formula.',
  ],
  arguments: [{ name: '<file>', summary: 'the note with the log', completes: 'notes' }],
  options: [
    { flags: '--spot <name>', summary: 'only moves from this spot', many: true },
    { flags: '--route <name>', summary: 'only spots on this route' },
    {
      flags: '--frames <n>',
      summary: 'moves of 0 up to this many frames',
      whole: { least: 0, most: 60 },
      preset: '1',
    },
    { flags: '--buttons <letters>', summary: 'buttons to try as well, alone and with directions' },
    {
      flags: '--exit <letter>',
      summary: 'the button to leave a pause with, or none; the one called jump unless given',
    },
    {
      flags: '--limit <n>',
      summary: `no more than this many; ${READ_AT_ONCE} in a table unless given, else all`,
      whole: { least: 0, most: 1_000_000 },
    },
    {
      flags: '--format <form>',
      summary: 'how to show them',
      choices: Object.keys(FORMS),
      preset: 'table',
    },
    ...OUTPUT_OPTIONS,
    SIZE_OPTION,
  ],
  examples: [
    { line: 'tiptoe gaps barrier.tiptoe', does: 'shows the twenty gaps that can save most' },
    {
      line: 'tiptoe gaps barrier.tiptoe --spot @reed --format csv -o tonight.csv',
      does: 'makes a sheet of all that is untried from one spot',
    },
    {
      line: 'tiptoe gaps barrier.tiptoe --frames 2 --exit none --format md',
      does: 'takes moves of up to two frames, none with a jump, as a Markdown table',
    },
  ],
  run,
};

async function run({ args: [path = ''], options }: Call): Promise<ExitCode> {
  const { program, file, scope } = openNote(path, options);
  if (scope.games.length === 0) {
    throw new Trouble(file.path, 'no game is in sight, and the moves come from the game', 'Declare one, or use the file that does.'); // prettier-ignore
  }
  const menu = menuOptions(scope.game, options);
  const spots = options.list('spot').map((name) => name.replace(/^@/, ''));
  const route = options.text('route');
  if (route !== undefined && !scope.routes.has(route)) {
    throw new Trouble('--route', `${file.path} has no route ${route}`, meant(route, scope.routes.keys())); // prettier-ignore
  }
  const found = findGaps(scope, { ...menu, route, ...(spots.length > 0 ? { spots } : {}) });
  checkSpots(spots, found, scope, route);
  const form = options.text('format') ?? 'table';
  const forReading = form === 'table' || form === 'md';
  const limit = options.whole('limit') ?? (forReading ? READ_AT_ONCE : Infinity);
  const paint = options.text('output') === undefined ? painter(1) : plain;
  const output = openOutput(options.output);
  const progress = new Progress('listing gaps');
  const make = FORMS[form] ?? table;
  try {
    let made = 0;
    for (const part of make({ gaps: found, game: scope.game, menu, limit, paint })) {
      const wait = output.write(part);
      if (wait) await wait;
      if (output.closed) break;
      progress.at(made++);
    }
    progress.end();
    await output.end();
  } catch (error) {
    output.abandon();
    throw error;
  }
  const broken = [...program.files.values()].filter(
    ({ tree, problems }) => problems.length + tree.units.filter(({ unit }) => unit.problems.length > 0).length > 0, // prettier-ignore
  );
  for (const each of broken) {
    report(troubleLine(each.path, 'it has errors, and what they hide is not in this list', 'tiptoe check shows them.')); // prettier-ignore
  }
  return broken.length > 0 ? EXIT.findings : EXIT.fine;
}

function menuOptions(game: Game, options: Options): MenuOptions {
  const buttons = options.text('buttons') ?? '';
  for (const letter of buttons) {
    const input = game.byLetter.get(letter);
    if (input?.button !== undefined) continue;
    const known = game.inputs
      .filter((each) => each.button !== undefined)
      .map((each) => each.letter);
    const reason = input === undefined ? `the game has no input ${letter}` : `${letter} is a direction, and in the list already`; // prettier-ignore
    throw new Trouble('--buttons', reason, `Its buttons are ${known.join(', ') || 'none'}.`);
  }
  if (new Set(buttons).size < buttons.length) {
    throw new Trouble('--buttons', `"${buttons}" names a button twice`);
  }
  const named = options.text('exit');
  if (named !== undefined && named !== 'none' && !game.byLetter.has(named)) {
    const letters = game.inputs.map((each) => each.letter).join(', ');
    throw new Trouble('--exit', `the game has no input ${named}`, `It has ${letters}; none is taken as well.`); // prettier-ignore
  }
  const exit = named === undefined ? exitOf(game)?.letter : named === 'none' ? undefined : named;
  return { frames: options.whole('frames') ?? 1, buttons, exit };
}

function checkSpots(
  spots: readonly string[],
  found: Gaps,
  scope: Scope,
  route: string | undefined,
): void {
  const there = new Set(found.spots.map((each) => each.spot));
  const missing = spots.find((spot) => !there.has(spot));
  if (missing !== undefined) {
    const known = new Set([...scope.spots.keys(), ...scope.logged]);
    if (route !== undefined && known.has(missing)) {
      throw new Trouble('--spot', `@${missing} is not on route ${route}`);
    }
    throw new Trouble('--spot', `there is no spot @${missing}`, meant(missing, known, '@'));
  }
  if (found.spots.length === 0 && route !== undefined) {
    throw new Trouble('--route', `${route} does not say where it starts, so nobody stands on it`, 'Write from and a spot behind its name.'); // prettier-ignore
  }
  if (directionsOf(scope.game).length === 0) {
    throw new Trouble(scope.file.path, 'the game has no directions to try', 'Declare them in its inputs, such as D = y +1.'); // prettier-ignore
  }
}

function meant(name: string, known: Iterable<string>, sign = ''): string {
  const all = [...known];
  const near = nearest(name, all);
  if (near !== undefined) return `Did you mean ${sign}${near}?`;
  if (all.length === 0) return 'There are none.';
  return `There are: ${all.slice(0, 20).map((each) => sign + each).join(', ')}.`; // prettier-ignore
}
