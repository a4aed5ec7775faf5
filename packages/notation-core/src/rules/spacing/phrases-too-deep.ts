import { problemRule } from '../rule.js';

export const phrasesTooDeep = problemRule({
  name: 'phrases-too-deep',
  severity: 'error',
  title: 'Phrases stand too deep inside phrases.',
  page: {
    what: 'Phrases and groups inside one another are more than the notation takes.',
    why: 'The limit keeps any text from exhausting the machine; no setup that is played comes near it.',
    bad: deep(),
    instead: 'let hop = D3\nlet hops = hop hop',
  },
  message: ({ limit }) => ({
    title: 'Phrases inside phrases go too deep',
    reason: `Phrases and groups may stand up to ${limit} deep inside one another.`,
    wayOut: 'Write the inner phrases out, or use fewer steps between them.',
  }),
});

/** One phrase inside the other, more often than the limit. */
function deep(): string {
  const lines = ['let hop = D3'];
  for (let k = 1; k <= 401; k++) lines.push(`let hop${k} = hop${k === 1 ? '' : k - 1}`);
  return lines.reverse().join('\n');
}
