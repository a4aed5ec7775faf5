/** What `tiptoe init` writes: an invented game and a first note of it. A test checks them clean. */
export const STARTER: readonly { readonly name: string; readonly text: string }[] = [
  {
    name: 'lantern-quay.tiptoe',
    text: `# What all notes of one game share. Put your own game's numbers here.

game "Lantern Quay" {
  clock 60  # ticks a second
  settle 6  # neutral frames until a tap's movement has run its course
  inputs {
    U = y -1   D = y +1
    L = x -1   R = x +1
    J = jump   S = strike
  }
  pause P { open 4  dwell 10  resume 2 }
  cue 0 "rope hangs still"
  cue 1 "rope begins to swing"
}
`,
  },
  {
    name: 'first-setup.tiptoe',
    text: `# Hold R for 20 frames to reach the wall, tap back twice, then one frame of up inside a pause.
# \`tiptoe check\` looks for mistakes, \`tiptoe frames first-setup.tiptoe\` shows every tick.

use "lantern-quay.tiptoe"

let nudge = L L

## From the foot of the stairs to the edge of the quay.
route edge "Edge of the quay" {
  R20  "until you touch the wall"
  nudge
  [U]  "rope begins to swing"
  J12
}
`,
  },
];
