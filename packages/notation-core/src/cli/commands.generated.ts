// Made from commands/*.ts by scripts/generate-commands.mjs (npm run generate). Do not edit.
import type { CommandEntry } from './command.js';

export const commands: readonly CommandEntry[] = [
  {
    name: 'check',
    summary: 'Say what is impossible, ambiguous or untidy in notes',
    load: () => import('./commands/check.js'),
  },
  {
    name: 'completion',
    summary: 'Print the script that completes commands and options in a shell',
    load: () => import('./commands/completion.js'),
  },
  {
    name: 'explain',
    summary: 'Say what a rule reports and why, or list all rules',
    load: () => import('./commands/explain.js'),
  },
  {
    name: 'find',
    summary: 'Find the best sequences that the log proves from some spots to another',
    load: () => import('./commands/find.js'),
  },
  {
    name: 'fmt',
    summary: 'Lay out notes in the one agreed way',
    load: () => import('./commands/fmt.js'),
  },
  {
    name: 'frames',
    summary: 'Show what is held on every tick of a route',
    load: () => import('./commands/frames.js'),
  },
  {
    name: 'gaps',
    summary: 'List the moves that nobody has tried yet, the most promising first',
    load: () => import('./commands/gaps.js'),
  },
  {
    name: 'init',
    summary: 'Begin with a game and a first note that check clean',
    load: () => import('./commands/init.js'),
  },
  {
    name: 'log',
    summary: 'Read a filled-in sheet back into the log of a note',
    load: () => import('./commands/log.js'),
  },
  {
    name: 'map',
    summary: 'Draw the spots and the moves of the log',
    load: () => import('./commands/map.js'),
  },
  {
    name: 'trace',
    summary: 'Follow where the character can be, item by item, by the log',
    load: () => import('./commands/trace.js'),
  },
];
