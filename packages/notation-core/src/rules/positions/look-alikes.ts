import { problemRule } from '../rule.js';

export const lookAlikes = problemRule({
  name: 'look-alikes',
  severity: 'warning',
  title: 'The player is asked to tell apart spots that look alike.',
  page: {
    what: 'An until or a rescue depends on the player seeing where they stand, and another spot where they can be at that moment has the same cue; or the spot has no cue at all and others are possible.',
    why: 'A player acts only on what they can see.',
    bad: 'spot @arch\nspot @beam\nseen {\n  @arch : U -> @beam x4\n  @beam : U -> @arch x4\n}\nroute climb from @arch @beam {\n  U*2+ until @beam\n}',
    instead:
      'spot @arch "soot on the arch"\nspot @beam "the beam creaks"\nseen {\n  @arch : U -> @beam x4\n  @beam : U -> @arch x4\n}\nroute climb from @arch @beam {\n  U*2+ until @beam\n}',
  },
  message: ({ what, spot, others, cue }) => ({
    title:
      cue === ''
        ? `nothing tells ${spot} from ${others}`
        : `${spot} looks like ${others}: "${cue}"`,
    reason: `This ${what} is for a player who sees that they stand at ${spot}.`,
    wayOut:
      cue === ''
        ? `Give it a cue: spot ${spot} "what it looks like".`
        : 'Write cues that differ, or find another item that parts them.',
  }),
});
