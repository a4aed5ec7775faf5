import type { Command, CommandEntry } from './command.js';
import { type Paint, painter, screenWidth } from './screen.js';
import { wrap } from './wrap.js';

const HELP: readonly [string, string] = ['-h, --help', 'show this help'];

/** The help of one command. */
export function helpText(
  command: Command,
  paint: Paint = painter(1),
  width = screenWidth(),
): string {
  const words = (command.arguments ?? []).map((argument) => argument.name);
  const usage = ['tiptoe', command.name, '[options]', ...words].join(' ');
  const options: [string, string][] = command.options.map((option) => {
    const values = option.choices === undefined ? '' : `: ${option.choices.join(', ')}`;
    const preset = option.preset === undefined ? '' : ` (${option.preset} unless given)`;
    return [option.flags, option.summary + values + preset];
  });
  const parts = [
    `${command.summary}.`,
    `${paint('bold', 'Usage:')} ${usage}`,
    ...(command.details ?? []).map((text) => wrap(text, width)),
  ];
  if (words.length > 0) {
    const rows = (command.arguments ?? []).map((a): [string, string] => [a.name, a.summary]);
    parts.push(table('Arguments', rows, paint, width));
  }
  parts.push(table('Options', [...options, HELP], paint, width));
  const examples = command.examples.map(
    ({ line, does }) => `  ${paint('cyan', line)}\n${wrap(does, width, '      ')}`,
  );
  parts.push(`${paint('bold', 'Examples:')}\n${examples.join('\n')}`);
  return parts.join('\n\n') + '\n';
}

/** The overview of all commands. */
export function overviewText(
  commands: readonly CommandEntry[],
  paint: Paint = painter(1),
  width = screenWidth(),
): string {
  const rows = commands.map(({ name, summary }): [string, string] => [name, summary]);
  return [
    'Tiptoe reads setups written as text: it checks them, lays them out, and turns them into exact tables.',
    `${paint('bold', 'Usage:')} tiptoe <command> [options]`,
    table('Commands', rows, paint, width),
    table('Options', [HELP, ['-V, --version', 'show the version']], paint, width),
    'tiptoe help <command> shows how to use one, with examples.',
  ]
    .map((part, k) => (k === 0 ? wrap(part, width) : part))
    .join('\n\n')
    .concat('\n');
}

function table(
  title: string,
  rows: readonly (readonly [string, string])[],
  paint: Paint,
  width: number,
): string {
  const most = Math.max(...rows.map(([left]) => left.length));
  const lines = rows.map(([left, right]) => {
    const indent = ' '.repeat(most + 4);
    const text = wrap(right, width, indent).slice(indent.length);
    return `  ${paint('cyan', left)}${' '.repeat(most - left.length + 2)}${text}`;
  });
  return `${paint('bold', `${title}:`)}\n${lines.join('\n')}`;
}
