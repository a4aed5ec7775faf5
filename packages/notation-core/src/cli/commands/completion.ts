import type { Call, Command } from '../command.js';
import { bashScript } from '../complete/bash.js';
import { fishScript } from '../complete/fish.js';
import { zshScript } from '../complete/zsh.js';
import { EXIT, type ExitCode, Trouble } from '../exit.js';
import { print } from '../output.js';

const SCRIPTS = { bash: bashScript, zsh: zshScript, fish: fishScript } as const;
const SHELLS = Object.keys(SCRIPTS) as (keyof typeof SCRIPTS)[];

export const command: Command = {
  name: 'completion',
  summary: 'Print the script that completes commands and options in a shell',
  arguments: [{ name: '<shell>', summary: SHELLS.join(', '), choices: SHELLS }],
  options: [],
  examples: [
    { line: 'source <(tiptoe completion bash)', does: 'for this bash; in ~/.bashrc for every one' },
    { line: 'source <(tiptoe completion zsh)', does: 'for this zsh, after compinit' },
    { line: 'tiptoe completion fish | source', does: 'for this fish' },
  ],
  run,
};

async function run({ args: [shell = ''], commands }: Call): Promise<ExitCode> {
  const known = SHELLS.find((name) => name === shell);
  if (known === undefined) {
    throw new Trouble(
      shell,
      'no completion for this shell',
      `There is one for ${SHELLS.join(', ')}.`,
    );
  }
  const loaded = await Promise.all(commands.map((entry) => entry.load()));
  await print(SCRIPTS[known](loaded.map((module) => module.command)));
  return EXIT.fine;
}
