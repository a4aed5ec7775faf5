import type { Count, Item } from '../../syntax/tree.js';
import type { ItemPlace } from '../rule.js';
import { rule } from '../rule.js';

export const countForm = rule({
  name: 'count-form',
  severity: 'note',
  title: 'A count of 1 is written out.',
  page: {
    what: 'D1, .1 or *1 stands where D, . or nothing says the same. Inside [ ], and joined to one, D1 is the usual form and stays.',
    why: 'Of two ways to write the same thing a reader looks for the difference.',
    bad: 'let hop = D1 R',
    instead: 'let hop = D R',
    fix: 'Takes the count away. Safe: the input is the same.',
  },
  message: ({ written, plain }: { written: string; plain: string }) => ({
    title: `${written} says no more than ${plain}`,
    reason: 'Without a count it is 1.',
    wayOut: `Write ${plain}.`,
  }),
  check: {
    where: /[A-Z.*]0*1(?![0-9])/,
    item(item, at, report) {
      const { unit, inPause } = at;
      const { repeat } = item;
      if (repeat?.lo === 1 && repeat.hi === 1 && !repeat.open && repeat.until === undefined) {
        const { start, end } = repeat;
        const written = unit.text.slice(start, end);
        report({ unit, start, end }, { written, plain: 'the item alone' }, () => [
          { title: `Take ${written} away`, safety: 'safe', edits: [{ start, end, text: '' }] },
        ]);
      }
      if (item.kind === 'pace' && item.pace?.kind === 'wait') {
        one(item.pace, item.pace.count, '.', at, report);
      }
      if (inPause) return;
      if (item.kind === 'press' && !touchesPause(item, at)) {
        one(item, item.count, item.inputs, at, report);
      } else if (item.kind === 'wait') one(item, item.count, '.', at, report);
    },
  },
});

function one(
  { start }: { start: number },
  { lo, hi, unit: of, written }: Count,
  plain: string,
  { unit }: ItemPlace,
  report: (
    at: { unit: ItemPlace['unit']; start: number; end: number },
    params: { written: string; plain: string },
    fixes: () => {
      title: string;
      safety: 'safe';
      edits: { start: number; end: number; text: string }[];
    }[],
  ) => void,
): void {
  if (!written || lo !== 1 || hi !== 1 || of !== 'frames') return;
  const from = start + plain.length;
  const count = /^0*1(?![0-9.])/.exec(unit.text.slice(from, from + 20))?.[0];
  if (count === undefined) return;
  const end = from + count.length;
  report({ unit, start, end }, { written: unit.text.slice(start, end), plain }, () => [
    { title: `Write ${plain}`, safety: 'safe', edits: [{ start: from, end, text: '' }] },
  ]);
}

function touchesPause(item: Item, { before, after }: ItemPlace): boolean {
  return (
    (after?.kind === 'pause' && after.join >= 0) || (before?.kind === 'pause' && item.join >= 0)
  );
}
