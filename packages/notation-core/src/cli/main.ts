import { writeSync } from 'node:fs';
import { nearest } from '../text/suggest.js';
import type { CommandEntry } from './command.js';
import { commands } from './commands.generated.js';
import { EXIT, type ExitCode, Trouble, oneLine } from './exit.js';
import { dropDrafts } from './io.js';
import { print } from './output.js';
import { version } from './version.js';

/** The entry of the bundle. Nothing is loaded before the command is known, and then only that command. */
async function main(words: readonly string[]): Promise<ExitCode> {
  const [first = '', ...rest] = words;
  if (first === '-V' || first === '--version') {
    await print(`tiptoe ${version}\n`);
    return EXIT.fine;
  }
  const asksHelp = first === 'help' || first === '-h' || first === '--help';
  const name = asksHelp ? (rest.find((word) => !word.startsWith('-')) ?? '') : first;
  if (name === '') return overview(asksHelp);
  const { command } = await entryOf(name).load();
  const { parseCall } = await import('./parser.js');
  const asked = parseCall(command, asksHelp ? ['--help'] : rest, commands);
  if ('call' in asked) return command.run(asked.call);
  await print(asked.help);
  return EXIT.fine;
}

async function overview(asked: boolean): Promise<ExitCode> {
  const { overviewText } = await import('./help.js');
  const { painter } = await import('./screen.js');
  if (asked) await print(overviewText(commands));
  else say(overviewText(commands, painter(2)));
  return asked ? EXIT.fine : EXIT.trouble;
}

function entryOf(name: string): CommandEntry {
  const found = commands.find((entry) => entry.name === name);
  if (found !== undefined) return found;
  const near = nearest(name, [...commands.map((entry) => entry.name), 'help']);
  const reason = name.startsWith('-') ? 'there is no such option' : 'there is no such command';
  const hint = near === undefined ? 'See tiptoe --help.' : `Did you mean ${near}?`;
  throw new Trouble(name, reason, hint);
}

/** To standard error, whoever listens. */
function say(text: string): void {
  try {
    writeSync(2, text);
  } catch {
    // Closed: the exit code still tells.
  }
}

function failed(error: unknown): ExitCode {
  dropDrafts();
  if (error instanceof Trouble) say(`tiptoe: ${error.message}\n`);
  else {
    const what = oneLine(error instanceof Error ? error.message : String(error));
    say(`tiptoe: this is a fault of the program, not yours: ${what}\n`);
    // The one who mends it wants to know where.
    if (process.env['TIPTOE_TRACE'] && error instanceof Error) say(`${error.stack ?? ''}\n`);
  }
  return EXIT.trouble;
}

void main(process.argv.slice(2))
  .catch(failed)
  // All is written by now: leaving at once spares the tidying up of a heap that nobody needs.
  .then((code) => process.exit(code));
