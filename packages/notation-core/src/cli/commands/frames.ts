import { type Call, type Command, OUTPUT_OPTIONS, SIZE_OPTION } from '../command.js';
import type { ExitCode } from '../exit.js';
import { ROUTE_OPTIONS } from '../routes.js';
import { runFrames } from '../tables/run.js';

export const FORMATS = ['table', 'csv', 'tsv', 'json', 'jsonl', 'md'] as const;

export const command: Command = {
  name: 'frames',
  summary: 'Show what is held on every tick of a route',
  details: [
    'One row a tick with --format csv, tsv, json, jsonl or md; one row for each stretch of equal ticks with --runs, and in the table for reading. frame is empty where the game is paused; time is in seconds.',
    'A route with errors has no table: its findings are printed instead, and the exit code is 1. A range takes its low end, a choose its first way, and until as many repetitions as the log says.',
  ],
  arguments: [{ name: '<file>', summary: 'the note', completes: 'notes' }],
  options: [
    ...ROUTE_OPTIONS,
    {
      flags: '--format <form>',
      summary: 'the form of the table',
      choices: FORMATS,
      preset: 'table',
    },
    { flags: '--runs', summary: 'one row for each stretch of equal ticks' },
    { flags: '--ticks', summary: 'one row a tick, in the table as well' },
    { flags: '--from <tick>', summary: 'begin with this tick; they count from 0' },
    { flags: '--to <tick>', summary: 'end before this tick' },
    { flags: '--timecode', summary: 'add the SMPTE timecode of each row' },
    SIZE_OPTION,
    ...OUTPUT_OPTIONS,
  ],
  examples: [
    { line: 'tiptoe frames barrier.tiptoe', does: 'shows every route of the note' },
    {
      line: 'tiptoe frames barrier.tiptoe --route barrier --choose finish=fast',
      does: 'shows one route with the fast way at its choose',
    },
    {
      line: 'tiptoe frames barrier.tiptoe --format csv -o barrier.csv',
      does: 'writes a row a tick for a spreadsheet',
    },
    {
      line: 'tiptoe frames barrier.tiptoe --from 600 --to 660 --ticks',
      does: 'shows sixty ticks one by one',
    },
  ],
  run: (call: Call): Promise<ExitCode> => runFrames(call),
};
