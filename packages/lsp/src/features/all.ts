import type { Feature } from './feature.js';
import { calls } from './calls.js';
import { definition } from './definition.js';
import { documents } from './documents.js';
import { fileOperations } from './file-operations.js';
import { folding } from './folding.js';
import { highlights } from './highlights.js';
import { hover } from './hover.js';
import { linkedEditing } from './linked-editing.js';
import { links } from './links.js';
import { pull } from './pull.js';
import { push } from './push.js';
import { references } from './references.js';
import { rename } from './rename.js';
import { selection } from './selection.js';
import { symbols } from './symbols.js';
import { workspace } from './workspace.js';

/** Every feature, by the name of its file. A test holds the list to the folder. */
export const FEATURES: readonly Feature[] = [
  calls,
  definition,
  documents,
  fileOperations,
  folding,
  highlights,
  hover,
  linkedEditing,
  links,
  pull,
  push,
  references,
  rename,
  selection,
  symbols,
  workspace,
];
