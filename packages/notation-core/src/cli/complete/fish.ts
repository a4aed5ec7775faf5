import type { Command, CommandOption, Completes } from '../command.js';
import { flagsOf } from './bash.js';

/** A completion script for fish. */
export function fishScript(commands: readonly Command[]): string {
  const lines = [
    '# Completion of tiptoe for fish. Load it with: tiptoe completion fish | source',
    'complete -c tiptoe -f',
    "complete -c tiptoe -n __fish_use_subcommand -s h -l help -d 'show help'",
    "complete -c tiptoe -n __fish_use_subcommand -s V -l version -d 'show the version'",
    ...commands.map(
      ({ name, summary }) =>
        `complete -c tiptoe -n __fish_use_subcommand -a ${name} -d ${quote(summary)}`,
    ),
    "complete -c tiptoe -n __fish_use_subcommand -a help -d 'Show how to use a command'",
    ...commands.flatMap(ofCommand),
  ];
  return lines.join('\n') + '\n';
}

function ofCommand(command: Command): string[] {
  const start = `complete -c tiptoe -n '__fish_seen_subcommand_from ${command.name}'`;
  const [argument] = command.arguments ?? [];
  const offers =
    argument?.choices !== undefined
      ? ` -a ${quote(argument.choices.join(' '))}`
      : filesOf(argument?.completes);
  return [
    ...command.options.map((option) => `${start}${optionText(option)}`),
    `${start} -s h -l help -d 'show help'`,
    ...(offers === '' ? [] : [start + offers]),
  ];
}

function optionText(option: CommandOption): string {
  const flags = flagsOf(option)
    .map((flag) => (flag.startsWith('--') ? ` -l ${flag.slice(2)}` : ` -s ${flag.slice(1)}`))
    .join('');
  const values = !option.flags.includes('<')
    ? ''
    : option.choices !== undefined
      ? ` -x -a ${quote(option.choices.join(' '))}`
      : option.completes === undefined
        ? ' -x'
        : ` -r${filesOf(option.completes)}`;
  return `${flags}${values} -d ${quote(option.summary)}`;
}

function filesOf(what: Completes | undefined): string {
  switch (what) {
    case 'notes':
      return " -k -a '(__fish_complete_suffix .tiptoe)'";
    case 'files':
      return ' -F';
    case 'folders':
      return " -a '(__fish_complete_directories)'";
    case undefined:
      return '';
  }
}

function quote(text: string): string {
  return `'${text.replaceAll('\\', '\\\\').replaceAll("'", "\\'")}'`;
}
