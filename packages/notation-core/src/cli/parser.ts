import { Command as Parser, CommanderError, Option } from 'commander';
import { nearest } from '../text/suggest.js';
import type { Call, Command, CommandEntry, CommandOption } from './command.js';
import { Trouble } from './exit.js';
import { longName, readValue } from './values.js';
import { Options } from './options.js';
import { helpText } from './help.js';

export type Asked = { readonly help: string } | { readonly call: Call };

/** Reads the words after the command's name. Throws Trouble where they are none of its usage. */
export function parseCall(
  command: Command,
  words: readonly string[],
  commands: readonly CommandEntry[],
): Asked {
  const parser = new Parser(command.name)
    .exitOverride()
    .showSuggestionAfterError(false)
    .configureOutput({ writeOut: () => undefined, writeErr: () => undefined })
    .allowExcessArguments(false)
    .helpOption('-h, --help');
  for (const argument of command.arguments ?? []) parser.argument(argument.name, argument.summary);
  for (const option of command.options) parser.addOption(optionOf(option));
  try {
    parser.parse(words, { from: 'user' });
  } catch (error) {
    if (!(error instanceof CommanderError)) throw error;
    if (error.code.startsWith('commander.help')) return { help: helpText(command) };
    throw inOurWords(command, error, words);
  }
  return { call: { args: parser.args, options: new Options(parser.opts()), commands } };
}

function optionOf(option: CommandOption): Option {
  const made = new Option(option.flags, option.summary);
  if (made.required) {
    made.argParser((written: string, before: unknown) => {
      const value = readValue(option, written);
      if (option.many !== true) return value;
      return [...(Array.isArray(before) ? (before as unknown[]) : []), value];
    });
    if (option.preset !== undefined) made.default(readValue(option, option.preset));
  }
  return made;
}

function inOurWords(command: Command, error: CommanderError, words: readonly string[]): Trouble {
  const see = `See tiptoe ${command.name} --help.`;
  const named = /'([^']*)'/.exec(error.message)?.[1] ?? '';
  switch (error.code) {
    case 'commander.unknownOption': {
      const near = nearest(named, [...command.options.map(longName), '--help']);
      const hint = near === undefined ? see : `Did you mean ${near}?`;
      return new Trouble(named, `tiptoe ${command.name} has no such option`, hint);
    }
    case 'commander.optionMissingArgument':
      return new Trouble(/--[a-z-]+/.exec(named)?.[0] ?? named, 'a value must follow', see);
    case 'commander.missingArgument':
      return new Trouble(`tiptoe ${command.name}`, `it needs a ${named}`, see);
    case 'commander.excessArguments': {
      const most = command.arguments?.length ?? 0;
      const takes = most === 0 ? 'no arguments' : most === 1 ? 'one argument' : `${most} arguments`;
      return new Trouble(`tiptoe ${command.name} ${words.join(' ')}`, `it takes ${takes}`, see);
    }
    default:
      return new Trouble(`tiptoe ${command.name}`, error.message.replace(/^error: /, ''), see);
  }
}
