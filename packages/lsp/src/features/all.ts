import type { Feature } from './feature.js';
import { calls } from './calls.js';
import { codeActions } from './code-actions.js';
import { codeLens } from './code-lens.js';
import { completion } from './completion.js';
import { definition } from './definition.js';
import { documents } from './documents.js';
import { fileOperations } from './file-operations.js';
import { folding } from './folding.js';
import { formatting } from './formatting.js';
import { highlights } from './highlights.js';
import { hover } from './hover.js';
import { inlayHints } from './inlay-hints.js';
import { linkedEditing } from './linked-editing.js';
import { links } from './links.js';
import { pull } from './pull.js';
import { push } from './push.js';
import { references } from './references.js';
import { rename } from './rename.js';
import { selection } from './selection.js';
import { semanticTokens } from './semantic-tokens.js';
import { signature } from './signature.js';
import { symbols } from './symbols.js';
import { timeline } from './timeline.js';
import { workspace } from './workspace.js';

/** Every feature, by the name of its file. A test holds the list to the folder. */
export const FEATURES: readonly Feature[] = [
  calls,
  codeActions,
  codeLens,
  completion,
  definition,
  documents,
  fileOperations,
  folding,
  formatting,
  highlights,
  hover,
  inlayHints,
  linkedEditing,
  links,
  pull,
  push,
  references,
  rename,
  selection,
  semanticTokens,
  signature,
  symbols,
  timeline,
  workspace,
];
