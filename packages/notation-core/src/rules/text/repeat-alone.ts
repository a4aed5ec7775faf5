import { problemRule } from '../rule.js';

export const repeatAlone = problemRule({
  name: 'repeat-alone',
  severity: 'error',
  fixed: true,
  title: 'A repeat has nothing to repeat.',
  page: {
    what: 'A repeat such as *8 stands with no item in front of it, or behind another repeat.',
    why: 'A repeat belongs to one item. What is to be repeated together is put in ( ) first.',
    bad: 'let hop = D*2*3',
    instead: 'let hop = (D*2)*3',
  },
  message: ({ written, twice }) => ({
    title: twice ? `${written} repeats a repeat` : `${written} repeats nothing`,
    reason: twice
      ? 'One item takes one repeat, and the one in front of it has its own already.'
      : 'No item that can be repeated stands right in front of it.',
    wayOut: twice
      ? `Put the item with its first repeat in ( ) and write ${written} behind the ).`
      : `Write it right behind the item, such as D${written}, or behind a group in ( ).`,
  }),
});
