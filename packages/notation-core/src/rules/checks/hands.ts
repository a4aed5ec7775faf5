import type { HandsDeclaration, Quantity, Setting, Unit } from '../../syntax/tree.js';
import type { Report } from '../../model/problems.js';
import { nearest } from '../../text/suggest.js';

interface Form {
  readonly wanted: string;
  fits(setting: Setting): boolean;
}

const time = (quantity: Quantity | undefined): boolean =>
  quantity !== undefined && /^(ms|s)$/.test(quantity.unit);
const positiveTime = (quantity: Quantity | undefined): boolean =>
  time(quantity) && quantity?.text.startsWith('-') === false;

function one(wanted: string, fits: (quantity: Quantity | undefined) => boolean): Form {
  return {
    wanted,
    fits: ({ values, words }) => values.length === 1 && words.length === 0 && fits(values[0]),
  };
}

const duration = one('a length in time, such as 300ms or 14s', positiveTime);
const percent = one(
  'a percentage from 0% to 100%, such as 0.5%',
  (quantity) =>
    quantity?.unit === '%' && !quantity.text.startsWith('-') && Number(quantity.text) <= 100,
);

/** What `hands` may say, and the values that each setting takes. */
const FORMS: ReadonlyMap<string, Form> = new Map<string, Form>([
  [
    'spread',
    {
      wanted: 'a length in time, such as spread 9ms, or two: spread press 6ms pause 11ms',
      fits: ({ values, words }) => {
        if (!values.every(positiveTime)) return false;
        if (words.length === 0) return values.length === 1;
        const names = new Set(words.map(({ name }) => name));
        const own = [...names].every((name) => name === 'press' || name === 'pause');
        return own && names.size === words.length && values.length === words.length;
      },
    },
  ],
  [
    'shape',
    {
      wanted: 'normal or lognormal',
      fits: ({ values, words }) =>
        values.length === 0 && words.length === 1 && /normal$/.test(words[0]?.name ?? ''),
    },
  ],
  [
    'latch',
    {
      wanted: 'the word alone',
      fits: ({ values, words }) => values.length === 0 && words.length === 0,
    },
  ],
  ['miss', percent],
  ['notice', percent],
  ['reset', duration],
  ['look', duration],
  ['bias', one('a length in time, such as 2ms or -2ms', time)],
  [
    'patience',
    one(
      'a whole number of repetitions, such as 30',
      (quantity) => quantity?.unit === '' && /^[1-9][0-9]{0,5}$/.test(quantity.text),
    ),
  ],
]);

export function checkHands({ settings }: HandsDeclaration, unit: Unit, report: Report): void {
  const taken = new Set<string>();
  for (const setting of settings) {
    const { name, start, end } = setting.key;
    const form = FORMS.get(name);
    const at = { unit, start, end };
    if (form === undefined) {
      const near = nearest(name, FORMS.keys()) ?? '';
      report('unknown-name', at, { kind: 'setting of hands', name, near });
      continue;
    }
    if (taken.has(name)) report('duplicate-name', at, { kind: 'setting', name });
    taken.add(name);
    if (form.fits(setting) && setting.pace === undefined) continue;
    report('bad-setting', { unit, start: setting.start, end: setting.end }, {
      setting: name,
      written: unit.text.slice(setting.start, setting.end),
      wanted: form.wanted,
    }); // prettier-ignore
  }
}
