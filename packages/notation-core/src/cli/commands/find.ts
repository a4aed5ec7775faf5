import { Finder, type Ranking } from '../../positions/find.js';
import { type Call, type Command, OUTPUT_OPTIONS, SIZE_OPTION } from '../command.js';
import { EXIT, type ExitCode } from '../exit.js';
import { drive } from '../find/drive.js';
import { findJson, findText } from '../find/show.js';
import { startsAsked, targetAsked } from '../find/target.js';
import { openNote } from '../note.js';
import { print } from '../output.js';

const RANKINGS: readonly Ranking[] = ['ticks', 'presses', 'sightings'];

export const command: Command = {
  name: 'find',
  summary: 'Find the best sequences that the log proves from some spots to another',
  details: [
    'A plan is a chain of rows of the log, and of moves where the character stands on open ground; it works from every one of the starts, whatever landing of a row comes. Starts are brought together by repeats that end in one spot, or by "until" a spot with a cue of its own; where a cue tells landings or starts apart, a plan has rescues or there is one for each start. No plan comes back to where it has been.',
    'By ticks: those of the nominal timeline, pace included. By presses: a chord counts once, the pause button not at all. By sightings: the plan whose least seen row was seen most often comes first. What is equal is ordered by ticks, or by presses.',
    'The result is notation to paste, each plan read back and followed by the log before it is printed. Where no plan is sure, plans by the most sighted landing of each row are given, and said to be so.',
    'Exit code 0: these are the best plans, and all there are if fewer than asked for. 1: there is none, or a limit ended the search; the best so far and what is still possible are printed. 130: the same after Ctrl-C. 2: a name that is none, or wrong usage.',
  ],
  arguments: [{ name: '<file>', summary: 'the note with the log', completes: 'notes' }],
  options: [
    { flags: '--from <spots>', summary: 'where the character can be: @a, or @a,@b, or anywhere' },
    { flags: '--to <place>', summary: 'a spot, "(x, y)" or a window "(x1, y1) to (x2, y2)"' },
    { flags: '--by <measure>', summary: 'what is best', choices: RANKINGS, preset: 'ticks' },
    {
      flags: '--best <number>',
      summary: 'how many plans',
      whole: { least: 1, most: 1000 },
      preset: '5',
    },
    { flags: '--likely', summary: 'count with the most sighted landing of each row only' },
    {
      flags: '--seconds <number>',
      summary: 'stop after so long',
      whole: { least: 1, most: 1_000_000 },
      preset: '10',
    },
    {
      flags: '--memory <megabytes>',
      summary: 'stop when the process holds so much',
      whole: { least: 1, most: 1_000_000 },
      preset: '2000',
    },
    { flags: '--format <form>', summary: 'how to show it', choices: ['text', 'json'], preset: 'text' }, // prettier-ignore
    ...OUTPUT_OPTIONS,
    SIZE_OPTION,
  ],
  examples: [
    {
      line: 'tiptoe find barrier.tiptoe --from anywhere --to @past',
      does: 'finds the five fastest ways that work from every logged spot',
    },
    {
      line: 'tiptoe find barrier.tiptoe --from @reed,@rush --to @past --by presses --best 1',
      does: 'finds the one with the fewest presses from two spots',
    },
    {
      line: 'tiptoe find yard.tiptoe --from @gate --to "(400, 80) to (420, 90)"',
      does: 'finds a way over open ground into a window, or proves that there is none',
    },
  ],
  run,
};

async function run({ args, options }: Call): Promise<ExitCode> {
  const [path = ''] = args;
  const { scope } = openNote(path, options);
  const to = targetAsked(options.text('to'), scope);
  const from = startsAsked(options.text('from'), to, scope);
  const by = RANKINGS.find((each) => each === options.text('by')) ?? 'ticks';
  const best = options.whole('best') ?? 5;
  const query = { from, to, by, best, likely: options.flag('likely') };
  const finder = new Finder(scope, query);
  const limits = { seconds: options.whole('seconds') ?? 10, memory: options.whole('memory') ?? 2000 }; // prettier-ignore
  const stopped = await drive(finder, limits);
  const limit = stopped === 'memory' ? many(limits.memory, 'megabyte') : many(limits.seconds, 'second'); // prettier-ignore
  const anywhere = options.text('from')?.trim() === 'anywhere';
  const { findings } = finder;
  const shown = { scope, query, anywhere, findings, stopped, limit };
  await print(options.text('format') === 'json' ? findJson(shown) : findText(shown), options.output); // prettier-ignore
  if (stopped === 'interrupt') return EXIT.interrupted;
  const isDone = stopped === undefined && findings.exhausted;
  const isThere = findings.groups.every(({ plans }) => plans.length > 0);
  return isDone && isThere ? EXIT.fine : EXIT.findings;
}

function many(count: number, one: string): string {
  return `${count} ${one}${count === 1 ? '' : 's'}`;
}
