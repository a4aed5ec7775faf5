import { existsSync, mkdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import type { Call, Command } from '../command.js';
import { EXIT, type ExitCode, Trouble, errorCode, systemReason } from '../exit.js';
import { writeFileSafe } from '../io.js';
import { print } from '../output.js';
import { STARTER } from '../starter/files.js';

export const command: Command = {
  name: 'init',
  summary: 'Begin with a game and a first note that check clean',
  arguments: [
    {
      name: '[folder]',
      summary: 'where to put them; made where it is missing; the working folder unless given',
      completes: 'folders',
    },
  ],
  options: [],
  examples: [
    { line: 'tiptoe init', does: 'puts a game and a note here' },
    { line: 'tiptoe init quay', does: 'puts them in the folder quay' },
  ],
  run,
};

async function run({ args: [folder = '.'] }: Call): Promise<ExitCode> {
  const files = STARTER.map(({ name, text }) => ({ path: join(folder, name), text }));
  const there = files.find(({ path }) => existsSync(path));
  if (there !== undefined) throw taken(there.path);
  const made: string[] = [];
  try {
    mkdirSync(folder, { recursive: true });
    for (const { path, text } of files) {
      writeFileSafe(path, text, { replace: false });
      made.push(path);
    }
  } catch (error) {
    // Both or none: half a start would be refused the next time.
    for (const path of made) rmSync(path, { force: true });
    const reason = errorCode(error) === 'EEXIST' ? 'it is a file' : systemReason(error);
    throw new Trouble(folder, `nothing can be written there: ${reason}`);
  }
  const [game, note] = files;
  await print(
    `${game?.path ?? ''}  the game: its clock, inputs and pause\n` +
      `${note?.path ?? ''}  a first setup\n\n` +
      `Next: tiptoe check ${folder}\n`,
  );
  return EXIT.fine;
}

function taken(path: string): Trouble {
  return new Trouble(path, 'it exists already', 'Name another folder: tiptoe init FOLDER.');
}
