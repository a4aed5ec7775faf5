import type { Item, PressItem } from '../../syntax/tree.js';
import { many, type LocalFix, rule } from '../rule.js';
import { lettersOf } from '../shape.js';

export const mergedPresses = rule({
  name: 'merged-presses',
  severity: 'warning',
  title: 'Two presses that the game reads as one.',
  page: {
    what: 'Two presses of the very same inputs follow each other with no tick between them; or a press names an input that the hold around it holds already.',
    why: 'The game sees one longer hold. If a second press was meant, the input has to be up for a tick.',
    bad: 'let hop = D3-D2',
    instead: 'let hop = D5',
    fix: 'Writes the one hold that it is, or leaves out the letter that is held anyway. Safe: the input is the same.',
  },
  message: ({ kind, letters, frames }: { kind: string; letters: string; frames: number }) =>
    kind === 'held'
      ? {
          title: `${letters} is down already`,
          reason: `The hold around this item holds ${letters} on every tick of its group.`,
          wayOut: `Leave ${letters} out here, or end the hold before it.`,
        }
      : {
          title: 'These two presses are one',
          reason: `Nothing lets ${letters} up between them, so the game sees ${kind === 'range' ? 'one longer hold' : `one hold of ${many(frames, 'frame')}`}.`,
          wayOut:
            kind === 'range'
              ? 'Write one press, or a wait between the two.'
              : `Write ${letters}${frames}, or a wait such as . between the two.`,
        },
  inLog: true,
  check: {
    begin(walk, report) {
      const { at, held, all, outer, game, previous } = walk;
      const { unit, item } = at;
      if ((held & outer) !== 0) {
        const letters = lettersOf(game, held & outer);
        const place = { unit, start: item.start, end: item.end };
        report(place, { kind: 'held', letters, frames: 0 }, () => withoutHeld(item, letters));
      }
      if (walk.kind === 'hold' || held === 0 || previous === undefined) return;
      if (walk.gap !== 0 || walk.previousAll !== all) return;
      // A press that is up to the next one only by a pause of its own is a technique, not a merge.
      const first = previous.item;
      const joined = previous.unit === unit && first.kind === 'press' && item.kind === 'press';
      const frames = joined ? first.count.hi + walk.hi : 0;
      const ranged = !joined || first.count.lo !== first.count.hi || walk.lo !== walk.hi;
      const inOrder = joined && first.end <= item.start;
      const from = inOrder ? first.start : item.start;
      // A repeat that follows upon itself is told at what repeats it.
      const { start, end } = (first === item ? item.repeat : undefined) ?? {
        start: from,
        end: item.end,
      };
      const place = { unit, start, end };
      const kind = ranged || first.count.unit !== 'frames' ? 'range' : 'same';
      report(place, { kind, letters: lettersOf(game, held), frames }, () =>
        inOrder ? asOne(first, item, unit.text) : [],
      );
    },
  },
});

/** `D3-D2` as `D5`, where nothing else stands between and nothing hangs on either. */
function asOne(first: PressItem, second: PressItem, text: string): LocalFix[] {
  const between = text.slice(first.end, second.start);
  if (second.join < 0 || between.replace(/\s/g, '') !== '-') return [];
  if (first.repeat !== undefined || second.repeat !== undefined) return [];
  if (first.count.unit !== 'frames' || second.count.unit !== 'frames') return [];
  const lo = first.count.lo + second.count.lo;
  const hi = first.count.hi + second.count.hi;
  if (!Number.isSafeInteger(hi) || first.inputs.length !== second.inputs.length) return [];
  const count = lo === hi ? `${lo}` : `${lo}..${hi}`;
  const written = first.inputs + count;
  const edits = [{ start: first.start, end: second.end, text: written }];
  return [{ title: `Write ${written}`, safety: 'safe', edits }];
}

function withoutHeld(item: Item, letters: string): LocalFix[] {
  if (item.kind !== 'press') return [];
  const { inputs, start } = item;
  const rest = inputs.replace(new RegExp(`[${letters}]`, 'g'), '');
  // Without a letter it would be a wait, and a wait changes the spacing.
  if (rest === '') return [];
  const edits = [{ start, end: start + inputs.length, text: rest }];
  return [{ title: `Write ${rest}`, safety: 'safe', edits }];
}
