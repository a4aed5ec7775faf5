import type { Command, CommandArgument, CommandOption, Completes } from '../command.js';
import { flagsOf } from './bash.js';

/** A completion script for zsh, to be sourced or put in a folder of `fpath` as `_tiptoe`. */
export function zshScript(commands: readonly Command[]): string {
  const list = commands.map(({ name, summary }) => `    ${quote(`${name}:${summary}`)}`);
  return `#compdef tiptoe
# Completion of tiptoe for zsh. Load it with: source <(tiptoe completion zsh)
_tiptoe() {
  local state line
  local -a commands
  commands=(
${list.join('\n')}
    ${quote('help:Show how to use a command')}
  )
  _arguments -C '(- *)'{-h,--help}'[show help]' '(- *)'{-V,--version}'[show the version]' \\
    '1:command:->command' '*::argument:->rest'
  case $state in
  command) _describe -t commands 'command' commands ;;
  rest)
    case $words[1] in
    help) _describe -t commands 'command' commands ;;
${commands.map(branch).join('\n')}
    esac ;;
  esac
}
if [ "$funcstack[1]" = _tiptoe ]; then
  _tiptoe "$@" # From a folder of fpath: this file is the function.
elif (( $+functions[compdef] )); then
  compdef _tiptoe tiptoe
fi
`;
}

function branch(command: Command): string {
  const specs = [
    ...command.options.map(optionSpec),
    quote('--help[show help]'),
    ...(command.arguments ?? []).map(argumentSpec),
  ];
  return `    ${command.name}) _arguments ${specs.join(' \\\n      ')} ;;`;
}

function optionSpec(option: CommandOption): string {
  const flags = flagsOf(option);
  const text = `[${escape(option.summary)}]`;
  const value = option.flags.includes('<')
    ? `:value:${actionOf(option.choices, option.completes)}`
    : '';
  const [only] = flags;
  if (flags.length === 1 && only !== undefined) {
    return quote((option.many === true ? '*' : '') + only + text + value);
  }
  return `'(${flags.join(' ')})'{${flags.join(',')}}${quote(text + value)}`;
}

function argumentSpec(argument: CommandArgument, index: number): string {
  const place = argument.name.includes('...') ? '*' : String(index + 1);
  const name = argument.name.replace(/[^a-z]/g, '');
  return quote(`${place}:${name}:${actionOf(argument.choices, argument.completes)}`);
}

function actionOf(
  choices: readonly string[] | undefined,
  completes: Completes | undefined,
): string {
  if (choices !== undefined) return `(${choices.join(' ')})`;
  switch (completes) {
    case 'notes':
      return '_files -g "*.tiptoe(-.)"';
    case 'files':
      return '_files';
    case 'folders':
      return '_files -/';
    case undefined:
      return ' ';
  }
}

function escape(text: string): string {
  return text.replace(/[[\]:\\]/g, '\\$&');
}

function quote(text: string): string {
  return `'${text.replaceAll("'", "'\\''")}'`;
}
