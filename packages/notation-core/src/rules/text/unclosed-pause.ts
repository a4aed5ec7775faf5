import { problemRule } from '../rule.js';

export const unclosedPause = problemRule({
  name: 'unclosed-pause',
  severity: 'error',
  fixed: true,
  title: 'A [ has no ].',
  page: {
    what: 'A pause is opened with [ and its declaration ends without the ] that lets the game run again.',
    why: 'Everything behind the [ would be windows of the pause, and the game would stay paused.',
    bad: 'route crossing { D3 [R1 R1 .12 J }',
    instead: 'route crossing { D3 [R1 R1] .12 J }',
  },
  message: () => ({
    title: 'A pause opened here is never closed',
    reason: 'The declaration ends while the game is still paused: no ] stands behind this [.',
    wayOut: 'Write ] behind the last window of the pause.',
  }),
});
