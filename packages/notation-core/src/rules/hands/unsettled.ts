import { many, rule } from '../rule.js';
import { sizeOf } from '../shape.js';

export const unsettled = rule({
  name: 'unsettled',
  severity: 'warning',
  title: 'A press before the last movement has run its course.',
  page: {
    what: 'A press follows one that moves on an axis, and the wait or the pace between them is shorter than the settle of the game. Joined presses are a roll and are left alone; so is what a pause parts.',
    why: 'The character is still moving, so the second press does not start from where the first one leads. Only a row of the log over both proves anything.',
    bad: 'let hop = U .4 R',
    instead: 'let hop = U .6 R',
    fix: 'Writes ~ in the place of the wait. It changes the timing.',
  },
  message: ({
    before,
    after,
    gap,
    settle,
  }: {
    before: string;
    after: string;
    gap: number;
    settle: number;
  }) => ({
    title: `${after} comes before ${before} has settled`,
    reason: `Between them ${gap === 1 ? 'is' : 'are'} ${many(gap, 'neutral frame')}, and a movement of this game settles in ${settle}.`,
    wayOut: `Write ~ or .${settle} between them, or log both together in one row of seen.`,
  }),
  check: {
    begin(walk, report) {
      const { game, shape, previous, outer, settled, waited, gap, at } = walk;
      if (previous === undefined || !waited || settled || outer !== 0) return;
      const { settle } = game;
      if (settle === undefined || gap === 0 || gap >= settle || walk.kind === 'part') return;
      if ((walk.previousAll & shape.moves) === 0 || sizeOf(walk.all) === 0) return;
      const { unit, item } = at;
      const head = item.kind === 'press' ? item.end : item.start + 1;
      const before = previous.unit.text.slice(previous.item.start, previous.item.end);
      const after = unit.text.slice(item.start, item.end);
      const params = { before: short(before), after: short(after), gap, settle };
      const wait =
        previous.unit === unit ? waitBetween(unit.text, previous.item.end, item.start) : undefined;
      report({ unit, start: item.start, end: head }, params, () =>
        wait === undefined
          ? []
          : [
              {
                title: 'Write ~ in the place of the wait',
                safety: 'changes-timing',
                edits: [{ ...wait, text: '~' }],
              },
            ],
      );
    },
  },
});

function short(written: string): string {
  return written.length > 24 ? `${written.slice(0, 22)} …` : written;
}

/** The one written wait between two items, where nothing else stands there. */
function waitBetween(
  text: string,
  from: number,
  to: number,
): { start: number; end: number } | undefined {
  const match = /^(\s+)(\.[0-9]*)\s+$/.exec(from <= to ? text.slice(from, to) : '');
  if (match === null) return undefined;
  const start = from + (match[1] ?? '').length;
  return { start, end: start + (match[2] ?? '').length };
}
