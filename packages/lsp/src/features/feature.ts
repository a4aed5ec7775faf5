import type { ClientCapabilities, ServerCapabilities } from 'vscode-languageserver-protocol';
import type { Session } from '../session.js';

/** One thing that an editor can ask for. A file of this folder each; `all.ts` lists them. */
export interface Feature {
  /** What is said of it in the answer to `initialize`. */
  capabilities?(client: ClientCapabilities): Partial<ServerCapabilities>;
  /** Sets its handlers, before anything has arrived. */
  register(session: Session): void;
}
