import type { ExitCode } from './exit.js';
import type { Options } from './options.js';

/** One option of a command, as data: the parser, the help and the shell completion are made of it. */
export interface CommandOption {
  /** As in the help: `-o, --output <file>`, `--fix`. Values stand in `< >`. */
  readonly flags: string;
  /** A few words, without a full stop. */
  readonly summary: string;
  /** The only values it takes. */
  readonly choices?: readonly string[];
  /** A whole number in these bounds, in `unit`. */
  readonly whole?: { readonly least: number; readonly most: number };
  /** A number of bytes: `64MB`, `500kB`, `1000`. */
  readonly size?: boolean;
  /** May be given several times. */
  readonly many?: boolean;
  /** The value where it is not given. */
  readonly preset?: string;
  /** What a shell offers for the value; without it, nothing but the choices. */
  readonly completes?: Completes;
}

export interface CommandArgument {
  /** As in the help: `[files...]`, `<file>`, `[rule]`. */
  readonly name: string;
  readonly summary: string;
  readonly choices?: readonly string[];
  readonly completes?: Completes;
}

export type Completes = 'notes' | 'files' | 'folders';

export interface Example {
  /** The line to type. */
  readonly line: string;
  /** What it does, in a few words. */
  readonly does: string;
}

/**
 * A command: one file in `commands`, exporting this as `command`. Dropping the file there and
 * running `npm run generate` is all it takes to add one.
 */
export interface Command {
  readonly name: string;
  /** One line for the list of commands, without a full stop. */
  readonly summary: string;
  /** Paragraphs for its own help. */
  readonly details?: readonly string[];
  readonly arguments?: readonly CommandArgument[];
  readonly options: readonly CommandOption[];
  readonly examples: readonly Example[];
  /** Does the work; throws Trouble for what the user can mend. */
  run(call: Call): Promise<ExitCode> | ExitCode;
}

/** What a command was asked. */
export interface Call {
  /** The arguments, without options. */
  readonly args: readonly string[];
  readonly options: Options;
  /** Every command there is, for help and completion. */
  readonly commands: readonly CommandEntry[];
}

/** A command in the generated list: what the overview needs, and how to get the rest. */
export interface CommandEntry {
  readonly name: string;
  readonly summary: string;
  readonly load: () => Promise<{ readonly command: Command }>;
}

/** For every command that has a result to keep. */
export const OUTPUT_OPTIONS: readonly CommandOption[] = [
  {
    flags: '-o, --output <file>',
    summary: 'write to a file, not to the screen',
    completes: 'files',
  },
  { flags: '--force', summary: 'let --output replace a file that exists' },
];

/** For every command that reads notes. */
export const SIZE_OPTION: CommandOption = {
  flags: '--max-size <size>',
  summary: 'refuse files over this size',
  size: true,
  preset: '64MB',
};
