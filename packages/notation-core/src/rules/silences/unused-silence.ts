import { rule } from '../rule.js';

export const unusedSilence = rule({
  name: 'unused-silence',
  severity: 'warning',
  title: 'A silence allows what is not there.',
  page: {
    what: 'A comment allows a rule that finds nothing on the line, or that cannot be allowed: text that cannot be read, and the silences themselves.',
    why: 'A silence that outlives its finding would hide the next one.',
    bad: '# tiptoe: allow pinch because two thumbs do it\nlet hop = U J',
    instead: 'let hop = U J',
  },
  message: ({ name }: { name: string }) => ({
    title: `${name} finds nothing here to allow`,
    reason: `No finding of ${name} begins on the line that this comment is for, or none that can be allowed.`,
    wayOut: 'Take the rule out of the comment, or the comment away.',
  }),
});
