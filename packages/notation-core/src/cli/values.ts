import { nearest } from '../text/suggest.js';
import type { CommandOption } from './command.js';
import { Trouble } from './exit.js';

/** Turns the text of an option's value into the value; throws Trouble where it is none. */
export function readValue(option: CommandOption, written: string): string | number {
  const name = longName(option);
  const { choices, whole, size } = option;
  if (choices !== undefined && !choices.includes(written)) {
    const near = nearest(written, choices);
    throw new Trouble(
      name,
      `"${written}" is none of ${choices.join(', ')}`,
      near === undefined ? '' : `Did you mean ${near}?`,
    );
  }
  if (whole !== undefined) {
    const value = /^[0-9]{1,15}$/.test(written) ? Number(written) : -1;
    if (value >= whole.least && value <= whole.most) return value;
    throw new Trouble(
      name,
      `"${written}" is no whole number from ${whole.least} to ${whole.most}`,
      `Write ${name} ${whole.least}, for example.`,
    );
  }
  if (size === true) return bytes(name, written);
  return written;
}

const UNITS: Readonly<Record<string, number>> = {
  '': 1,
  B: 1,
  K: 1024,
  M: 1024 ** 2,
  G: 1024 ** 3,
};
/** The longest text that the engine can hold, in bytes of plain letters. */
const MOST = 2 ** 29 - 24;

function bytes(name: string, written: string): number {
  const [, digits, unit = ''] = /^([0-9]{1,12})\s*(B|[KMG]B?)?$/i.exec(written) ?? [];
  const value = Number(digits) * (UNITS[unit.charAt(0).toUpperCase()] ?? NaN);
  if (value >= 1 && value <= MOST) return value;
  throw new Trouble(
    name,
    digits === undefined
      ? `"${written}" is no size`
      : `"${written}" is out of reach: from 1 byte to 511MB`,
    `Write ${name} 64MB, for example.`,
  );
}

/** `--output` of `-o, --output <file>`. */
export function longName(option: CommandOption): string {
  return /--[a-z][a-z0-9-]*/.exec(option.flags)?.[0] ?? option.flags;
}
