import type { Command, CommandOption, Completes } from '../command.js';

/** A completion script for bash 3.2 and later. */
export function bashScript(commands: readonly Command[]): string {
  const names = [...commands.map((command) => command.name), 'help'];
  return `# Completion of tiptoe for bash. Load it with: source <(tiptoe completion bash)
_tiptoe() {
  local word=\${COMP_WORDS[COMP_CWORD]} before=\${COMP_WORDS[COMP_CWORD-1]} command='' at=1
  while [ "$at" -lt "$COMP_CWORD" ]; do
    case \${COMP_WORDS[at]} in -*) ;; *) command=\${COMP_WORDS[at]}; break ;; esac
    at=$((at + 1))
  done
  local IFS=$'\\n'
  COMPREPLY=()
  case $command in
  '') ${offer([...names, '--help', '--version'])} ;;
  help) ${offer(names)} ;;
${commands.map(branch).join('\n')}
  esac
}
_tiptoe_files() { # what, the word: file names, with a slash after a folder
  compopt -o filenames 2>/dev/null
  COMPREPLY=($(compgen -d -- "$2"))
  case $1 in
  notes) COMPREPLY+=($(compgen -f -X '!*.tiptoe' -- "$2")) ;;
  files) COMPREPLY=($(compgen -f -- "$2")) ;;
  esac
}
complete -F _tiptoe tiptoe
`;
}

function branch(command: Command): string {
  const valued = command.options.filter((option) => option.flags.includes('<'));
  const values = valued.map((option) => `    ${flagsOf(option).join('|')}) ${valuesOf(option)} ;;`);
  const flags = [...command.options.flatMap(flagsOf), '--help'];
  const [argument] = command.arguments ?? [];
  const otherwise =
    argument?.choices !== undefined ? offer(argument.choices) : filesOf(argument?.completes);
  return [
    `  ${command.name})`,
    ...(values.length === 0 ? [] : ['    case $before in', ...values, '    esac']),
    `    case $word in -*) ${offer(flags)}; return ;; esac`,
    `    ${otherwise} ;;`,
  ].join('\n');
}

function valuesOf(option: CommandOption): string {
  if (option.choices !== undefined) return `${offer(option.choices)}; return`;
  return `${filesOf(option.completes)}; return`;
}

function filesOf(what: Completes | undefined): string {
  return what === undefined ? ':' : `_tiptoe_files ${what} "$word"`;
}

function offer(words: readonly string[]): string {
  return `COMPREPLY=($(compgen -W $'${words.join('\\n')}' -- "$word"))`;
}

/** `-o` and `--output` of `-o, --output <file>`. */
export function flagsOf(option: CommandOption): string[] {
  return option.flags.match(/(?<![\w-])--?[a-zA-Z][a-z-]*/g) ?? [];
}
