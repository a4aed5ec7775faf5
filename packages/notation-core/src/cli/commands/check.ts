import { type Call, type Command, OUTPUT_OPTIONS, SIZE_OPTION } from '../command.js';
import type { ExitCode } from '../exit.js';
import { runCheck } from '../check/run.js';

export const FORMATS = ['text', 'json', 'sarif', 'github'] as const;

export const command: Command = {
  name: 'check',
  summary: 'Say what is impossible, ambiguous or untidy in notes',
  details: [
    'Exit code 0: no errors, and no more warnings than --max-warnings allows. 1: errors, or more warnings. 2: a file that cannot be read, or wrong usage; the other files are checked all the same.',
    'Severities and limits are set in tiptoe.json, the nearest one from the folder of a note upwards.',
  ],
  arguments: [
    {
      name: '[files...]',
      summary: 'notes, folders of notes, or patterns; the working folder unless given',
      completes: 'notes',
    },
  ],
  options: [
    { flags: '--format <form>', summary: 'how to show it', choices: FORMATS, preset: 'text' },
    { flags: '--fix', summary: 'mend what can be mended without changing the timing' },
    { flags: '--fix-timing', summary: 'mend as well what changes the timing' },
    {
      flags: '--max-warnings <number>',
      summary: 'more warnings than this make exit code 1',
      whole: { least: 0, most: 1_000_000_000 },
    },
    { flags: '--stdin', summary: 'check the text on standard input' },
    {
      flags: '--stdin-path <path>',
      summary: 'the file that standard input stands for: `use` and tiptoe.json go by it',
      completes: 'files',
    },
    { flags: '--watch', summary: 'check again whenever a file changes, until Ctrl-C' },
    {
      flags: '--config <file>',
      summary: 'the settings, not the nearest tiptoe.json',
      completes: 'files',
    },
    SIZE_OPTION,
    ...OUTPUT_OPTIONS,
  ],
  examples: [
    { line: 'tiptoe check', does: 'checks every note in this folder and below' },
    { line: 'tiptoe check barrier.tiptoe --fix', does: 'mends a note as far as that is safe' },
    { line: "tiptoe check 'routes/**/*.tiptoe' --watch", does: 'checks after each change' },
    { line: 'tiptoe check --format sarif -o findings.sarif', does: 'writes a log for other tools' },
    {
      line: 'tiptoe check --stdin --stdin-path notes/draft.tiptoe < draft',
      does: 'checks a text as if it were that file',
    },
  ],
  run: (call: Call): Promise<ExitCode> => runCheck(call),
};
