/** The public face of the core: whatever is exported here is the package's promise. */
export { parse } from './syntax/parse.js';
export type * from './syntax/tree.js';
