import { problemRule } from '../rule.js';

export const duplicateName = problemRule({
  name: 'duplicate-name',
  severity: 'error',
  title: 'A name is given twice.',
  page: {
    what: 'Two phrases, routes, spots, grounds, settings, inputs, choices or ways of one choose have the same name, or a press names one input twice.',
    why: 'Only one of them can be meant where the name stands, and a reader cannot tell which.',
    bad: 'let hop = D3 R\nlet hop = J R',
    instead: 'let hop = D3 R\nlet high_hop = J R',
  },
  message: ({ kind, name }) => ({
    title: `${name} is there twice`,
    reason: `Another ${kind} of this name stands in front of it, or in a file that is used.`,
    wayOut: kind === 'input' ? `Take one ${name} away.` : `Give this ${kind} another name.`,
  }),
});
