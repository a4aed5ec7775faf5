/** The invented game that the examples of the rules' pages are notes of. */
export const EXAMPLE_GAME_PATH = 'kiln.tiptoe';

export const EXAMPLE_GAME = `game "Kiln Runner" {
  clock 60
  settle 6
  inputs {
    U = y -1   D = y +1   L = x -1   R = x +1
    J = jump   S = strike   G = grip
  }
  pause P { open 4  dwell 8  resume 2 }
  cue 0 "lantern low"
  cue 1 "lantern level"
  cue 2 "lantern high"
}
`;
