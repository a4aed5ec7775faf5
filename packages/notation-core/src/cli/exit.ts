/** What the process says by its exit code. */
export const EXIT = {
  /** Done, and nothing to complain of. */
  fine: 0,
  /** Done, and there are findings: errors, or more warnings than allowed. */
  findings: 1,
  /** Not done, or not for every file: wrong usage, or something that cannot be read or written. */
  trouble: 2,
  /** Ended by Ctrl-C: 128 and the number of the signal, as shells count. */
  interrupted: 130,
} as const;

export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

/**
 * Ends the command with exit code 2 and one line on standard error: `tiptoe: place: reason. Way out.`
 * Thrown for whatever the user can mend; anything else that is thrown is a fault of the program.
 */
export class Trouble extends Error {
  override readonly name = 'Trouble';

  /** `place` is a file, an option, or '' where there is none; `wayOut` is a whole sentence, or ''. */
  constructor(
    readonly place: string,
    readonly reason: string,
    readonly wayOut = '',
  ) {
    super(troubleLine(place, reason, wayOut));
  }
}

/** `place: reason. Way out.` in one line, whatever the parts hold. */
export function troubleLine(place: string, reason: string, wayOut = ''): string {
  const said = place === '' ? reason : `${place}: ${reason}`;
  return oneLine(wayOut === '' ? said : `${said.replace(/[.\s]+$/, '')}. ${wayOut}`);
}

/** Control characters and line ends would break the one line, or drive the terminal. */
export function oneLine(text: string): string {
  return text.replace(/\s*[\r\n\u2028\u2029]+\s*/g, ' ').replace(/\p{Cc}/gu, '\ufffd');
}

/** The code of an error of the system (`ENOENT`, …), or ''. */
export function errorCode(error: unknown): string {
  if (typeof error !== 'object' || error === null || !('code' in error)) return '';
  return typeof error.code === 'string' ? error.code : '';
}

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  ENOTDIR: 'a part of its path is a file, not a folder',
  EISDIR: 'it is a folder, not a file',
  EACCES: 'no permission',
  EPERM: 'no permission',
  EROFS: 'the disk can only be read',
  ENOSPC: 'the disk is full',
  EDQUOT: 'the quota of the disk is used up',
  ELOOP: 'its links lead in a circle',
  ENAMETOOLONG: 'its name is too long',
  EMFILE: 'too many files are open',
  ENFILE: 'too many files are open',
  EEXIST: 'it exists already',
  EBUSY: 'another program holds it',
  EIO: 'the disk does not answer',
};

/** Why the system refused, in words. */
export function systemReason(error: unknown): string {
  const code = errorCode(error);
  const known = REASONS[code];
  if (known !== undefined) return known;
  return code === '' ? oneLine(String(error)) : `the system says ${code}`;
}
