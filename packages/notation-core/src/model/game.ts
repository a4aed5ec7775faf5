import { type Fraction, compare, div, fraction, parseDecimal } from '../text/fraction.js';
import { nearest } from '../text/suggest.js';
import type { Count, GameDeclaration, Quantity, Setting, Unit } from '../syntax/tree.js';
import type { Report } from './problems.js';

/** An input: a value on an axis (`D = y +1`, a stick position `W = y -0.5`), or a button. */
export interface Input {
  readonly letter: string;
  /** Its place among the declared inputs; its bit in a set of held inputs. */
  readonly index: number;
  readonly axis: string | undefined;
  /** The value on the axis as an exact decimal, '' for a button. */
  readonly value: string;
  /** What a table shows while it is held: 1, or the value where that is a part of the way. */
  readonly shown: string;
  readonly button: string | undefined;
  readonly note: string;
}

/** The pause input; all in ticks. */
export interface PauseTiming {
  readonly letter: string;
  /** Ticks after the pausing tick on which the menu takes no press. */
  readonly open: number;
  /** Ticks that the player waits in the menu. */
  readonly dwell: number;
  /** Ticks from the unpausing press until a frame runs again. */
  readonly resume: number;
}

/** What stands between two items: `~`, or that many ticks of nothing. */
export type Pace = { readonly kind: 'settle' } | { readonly kind: 'wait'; readonly count: Count };

export interface Game {
  readonly title: string;
  /** Ticks a second. */
  readonly clock: Fraction;
  /** Neutral frames until a tap's movement has run its course. */
  readonly settle: number | undefined;
  readonly pace: Pace | undefined;
  readonly inputs: readonly Input[];
  readonly byLetter: ReadonlyMap<string, Input>;
  readonly pause: PauseTiming | undefined;
  /** What tells the player how many frames have run since a press, by that number. */
  readonly cues: ReadonlyMap<number, string>;
  readonly unit: Unit;
}

/** The game in force where none is declared: findings say so, and the rest still gets a meaning. */
export function gameless(unit: Unit): Game {
  return {
    title: '',
    clock: fraction(60n),
    settle: undefined,
    pace: undefined,
    inputs: [],
    byLetter: new Map(),
    pause: undefined,
    cues: new Map(),
    unit,
  };
}

const GAME_SETTINGS = ['clock', 'settle', 'pace', 'inputs', 'pause', 'cue'];
const PAUSE_SETTINGS = ['open', 'dwell', 'resume'];
const SIXTY = 60n;

/** The game that a declaration describes; what it lacks is reported and filled in. */
export function readGame(declaration: GameDeclaration, unit: Unit, report: Report): Game {
  const place = (at: { start: number; end: number }) => ({ unit, start: at.start, end: at.end });
  let clock: Fraction | undefined;
  let settle: number | undefined;
  let pace: Pace | undefined;
  const taken = new Set<string>();
  for (const setting of declaration.settings) {
    const key = setting.key.name;
    if (!GAME_SETTINGS.includes(key)) {
      const near = nearest(key, GAME_SETTINGS) ?? '';
      report('unknown-name', place(setting.key), { kind: 'setting of a game', name: key, near });
      continue;
    }
    if (taken.has(key))
      report('duplicate-name', place(setting.key), { kind: 'setting', name: key });
    taken.add(key);
    if (key === 'clock') clock = readClock(setting, unit, report);
    else if (key === 'settle') settle = readWhole(setting, unit, report);
    else if (setting.pace === undefined) {
      bad(setting, unit, report, '~, or a wait such as .2');
    } else {
      pace =
        setting.pace.kind === 'settle'
          ? { kind: 'settle' }
          : { kind: 'wait', count: setting.pace.count };
    }
  }
  if (clock === undefined && !taken.has('clock')) {
    const at = declaration.title ?? declaration;
    report('bad-setting', place(at), {
      setting: 'clock',
      written: '',
      wanted: 'the ticks a second, such as clock 60 or clock 30000/1001',
    });
  }
  if (pace === undefined && settle !== undefined) pace = { kind: 'settle' };
  const inputs = readInputs(declaration, unit, report);
  return {
    title: declaration.title?.value ?? '',
    clock: clock ?? fraction(SIXTY),
    settle,
    pace,
    inputs,
    byLetter: new Map(inputs.map((input) => [input.letter, input])),
    pause: readPause(declaration, unit, report),
    cues: readCues(declaration, unit, report),
    unit,
  };
}

function bad(setting: Setting, unit: Unit, report: Report, wanted: string): void {
  const written = unit.text.slice(setting.start, setting.end);
  report('bad-setting', { unit, start: setting.start, end: setting.end }, {
    setting: setting.key.name, written, wanted,
  }); // prettier-ignore
}

function readClock(setting: Setting, unit: Unit, report: Report): Fraction | undefined {
  const [over, under] = setting.values;
  const wanted = 'a number above 0 up to 100000, such as clock 60 or clock 30000/1001';
  const top = exact(over);
  const bottom = under === undefined ? fraction(1n) : exact(under);
  if (top !== undefined && bottom !== undefined && setting.values.length <= 2) {
    if (top.num > 0n && bottom.num > 0n) {
      const clock = div(top, bottom);
      if (compare(clock, fraction(100000n)) <= 0) return clock;
    }
  }
  bad(setting, unit, report, wanted);
  return undefined;
}

function exact(quantity: Quantity | undefined): Fraction | undefined {
  if (quantity === undefined || quantity.unit !== '' || quantity.text.length > 30) return undefined;
  return parseDecimal(quantity.text);
}

function readWhole(setting: Setting, unit: Unit, report: Report): number | undefined {
  const value = whole(setting.values[0]);
  if (value !== undefined && setting.values.length === 1) return value;
  bad(setting, unit, report, 'a whole number of ticks, at most 1000000');
  return undefined;
}

function whole(quantity: Quantity | undefined): number | undefined {
  if (quantity === undefined || quantity.unit !== '' || !/^[0-9]{1,7}$/.test(quantity.text)) {
    return undefined;
  }
  const value = Number(quantity.text);
  return value <= 1_000_000 ? value : undefined;
}

function readInputs(declaration: GameDeclaration, unit: Unit, report: Report): Input[] {
  const inputs: Input[] = [];
  const letters = new Set<string>();
  for (const line of declaration.inputs) {
    const letter = line.letter.name;
    const at = { unit, start: line.letter.start, end: line.letter.end };
    if (letter.length !== 1) {
      report('bad-setting', at, {
        setting: 'input', written: letter, wanted: 'one capital letter',
      }); // prettier-ignore
      continue;
    }
    if (letters.has(letter)) {
      report('duplicate-name', at, { kind: 'input', name: letter });
      continue;
    }
    letters.add(letter);
    const value = line.value === undefined ? undefined : parseDecimal(line.value.text);
    const number = line.value?.text ?? '';
    const part =
      value !== undefined && (value.num === 0n || value.den !== 1n || abs(value.num) > 1n);
    inputs.push({
      letter,
      index: inputs.length,
      axis: line.value === undefined ? undefined : line.target?.name,
      value: number,
      shown: part ? number : '1',
      button: line.value === undefined ? line.target?.name : undefined,
      note: line.note?.value ?? '',
    });
  }
  return inputs;
}

function abs(n: bigint): bigint {
  return n < 0n ? -n : n;
}

function readPause(
  declaration: GameDeclaration,
  unit: Unit,
  report: Report,
): PauseTiming | undefined {
  const [line, ...more] = declaration.pauses;
  if (line === undefined) return undefined;
  for (const again of more) {
    report('duplicate-name', { unit, start: again.start, end: again.end }, {
      kind: 'setting', name: 'pause',
    }); // prettier-ignore
  }
  const letter = line.letter?.name ?? 'P';
  if (line.letter !== undefined) {
    const at = { unit, start: line.letter.start, end: line.letter.end };
    if (letter.length !== 1) {
      report('bad-setting', at, {
        setting: 'pause', written: letter, wanted: 'one capital letter',
      }); // prettier-ignore
    } else if (declaration.inputs.some((input) => input.letter.name === letter)) {
      report('duplicate-name', at, { kind: 'input', name: letter });
    }
  }
  const values = new Map<string, number>();
  for (const setting of line.settings) {
    const key = setting.key.name;
    const at = { unit, start: setting.key.start, end: setting.key.end };
    if (!PAUSE_SETTINGS.includes(key)) {
      const near = nearest(key, PAUSE_SETTINGS) ?? '';
      report('unknown-name', at, { kind: 'setting of a pause', name: key, near });
      continue;
    }
    if (values.has(key)) report('duplicate-name', at, { kind: 'setting', name: key });
    const value = readWhole(setting, unit, report);
    if (value !== undefined) values.set(key, value);
  }
  const open = values.get('open') ?? 0;
  return {
    letter: letter.slice(0, 1),
    open,
    dwell: values.get('dwell') ?? Math.max(1, open),
    resume: values.get('resume') ?? 1,
  };
}

function readCues(
  declaration: GameDeclaration,
  unit: Unit,
  report: Report,
): ReadonlyMap<number, string> {
  const cues = new Map<number, string>();
  for (const line of declaration.cues) {
    if (line.frame === undefined || line.text === undefined) continue;
    const at = { unit, start: line.frame.start, end: line.frame.end };
    const frame = whole(line.frame);
    if (frame === undefined) {
      report('bad-setting', at, {
        setting: 'cue', written: line.frame.text, wanted: 'a whole number of frames',
      }); // prettier-ignore
    } else if (cues.has(frame)) {
      report('duplicate-name', at, { kind: 'cue', name: String(frame) });
    } else cues.set(frame, line.text.value);
  }
  return cues;
}
