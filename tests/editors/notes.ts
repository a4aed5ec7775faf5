import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The server as it is bundled. */
export const SERVER = fileURLToPath(
  new URL('../../packages/lsp/bin/tiptoe-lsp.cjs', import.meta.url),
);

/** A small folder of notes with something to find in it. */
export const NOTES = {
  'game.tiptoe': `game "Attic Post" {
  clock 60
  settle 6
  inputs {
    U = y -1
    D = y +1
    J = jump
  }
  pause P { open 4  dwell 8  resume 2 }
}
`,
  'phrases.tiptoe': `use "game.tiptoe"

let climb = U U J
`,
  'note.tiptoe': `use "phrases.tiptoe"

spot @loft "under the beam"

seen {
  @sill : [U1] -> @loft x4
}

route up from @sill to @loft {
  [U1] @loft
}

route down {
  climb*2   D1
  claim_nobody_knows
}
`,
} as const;

/** A new folder with the notes. */
export function folderOfNotes(): { readonly path: string; remove(): void } {
  const path = mkdtempSync(join(tmpdir(), 'tiptoe-editor-'));
  for (const [name, text] of Object.entries(NOTES)) writeFileSync(join(path, name), text);
  return {
    path,
    remove() {
      rmSync(path, { recursive: true, force: true });
    },
  };
}
