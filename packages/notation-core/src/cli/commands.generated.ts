// Made from commands/*.ts by scripts/generate-commands.mjs (npm run generate). Do not edit.
import type { CommandEntry } from './command.js';

export const commands: readonly CommandEntry[] = [
  {
    name: 'completion',
    summary: 'Print the script that completes commands and options in a shell',
    load: () => import('./commands/completion.js'),
  },
  {
    name: 'fmt',
    summary: 'Lay out notes in the one agreed way',
    load: () => import('./commands/fmt.js'),
  },
];
