import { SHEET_COLUMNS, type SheetProblem } from '../positions/sheet.js';
import { messageOf } from '../rules/registry.js';

/** What is wrong with a line of a sheet, in words, and what to do about it. */
export function sheetWords(problem: SheetProblem): { reason: string; wayOut: string } {
  switch (problem.code) {
    case 'columns':
      return columnWords(problem);
    case 'cells': {
      const { found, wanted } = problem;
      return {
        reason: `it has ${found} ${found === 1 ? 'cell' : 'cells'}, and the header has ${wanted}`,
        wayOut: 'Put quotes around a cell that holds a comma.',
      };
    }
    case 'empty':
      return problem.column === 'landing'
        ? { reason: 'it has a count and no landing', wayOut: 'Write the spot where it led.' }
        : { reason: `the ${problem.column} is empty`, wayOut: 'Fill it in, or leave the whole line empty.' }; // prettier-ignore
    case 'count':
      return {
        reason: `the count "${shown(problem.written)}" is no whole number from 1 on`,
        wayOut: 'Write how often it was seen, or nothing for once.',
      };
    case 'spot':
      return {
        reason: `"${shown(problem.written)}" is no name of a spot (${problem.column})`,
        wayOut: 'A name has letters, digits and _, such as reed.',
      };
    case 'new-spot': {
      const { near, name } = problem;
      const meant = near === '' ? '' : `Did you mean ${near}? `;
      return {
        reason: `the note names no spot @${name}`,
        wayOut: `${meant}${meant === '' ? '--new-spots' : 'If not, --new-spots'} takes it as a new one.`,
      };
    }
    case 'items':
      return itemWords(problem);
    case 'too-many':
      return {
        reason: `@${problem.from} to @${problem.to} would count beyond what is exact`,
        wayOut: 'Look at the count again.',
      };
  }
}

function columnWords(problem: SheetProblem & { code: 'columns' }): {
  reason: string;
  wayOut: string;
} {
  const { reason, column, near, found } = problem;
  const wayOut = `The columns are ${SHEET_COLUMNS.join(',')}.`;
  if (reason === 'missing') {
    const header = found === '' ? 'the sheet is empty' : `its header is "${shown(found)}"`;
    return { reason: `${header}: the column ${column} is missing`, wayOut };
  }
  if (reason === 'twice') return { reason: `the column ${column} is there twice`, wayOut };
  const meant = near === '' ? '' : `Did you mean ${near}? `;
  return { reason: `there is no column "${shown(column)}"`, wayOut: meant + wayOut };
}

function itemWords(problem: SheetProblem & { code: 'items' }): { reason: string; wayOut: string } {
  const { problem: what, written } = problem;
  const front = `the items "${shown(written)}" are none`;
  switch (what.why) {
    case 'rule': {
      const { title, reason, wayOut } = messageOf(what.rule, what.params);
      const because = [title, reason].map((each) => each.replace(/[.\s]+$/, '')).filter(Boolean);
      return { reason: `${front}: ${shown(because.join('. '), 300)}`, wayOut: shown(wayOut, 200) };
    }
    case 'not-items':
      return {
        reason: front,
        wayOut: 'Write what was pressed and nothing else, such as U2 or [D1]-J.',
      };
    case 'too-long':
      return {
        reason: `the items are more than the ${what.limit} that a row can have`,
        wayOut: 'Log them in parts.',
      };
    case 'pause':
      return {
        reason: `the items "${shown(written)}" cannot be done: presses of the pause input stand too close`, // prettier-ignore
        wayOut: 'A window takes resume + frames of 2 or more.',
      };
  }
}

function shown(text: string, most = 40): string {
  return text.length > most ? `${text.slice(0, most)}...` : text;
}
