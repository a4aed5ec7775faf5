import { RequestType } from 'vscode-languageserver-protocol';
import type { Files, FileText } from './host.js';
import { isNote, isSearched } from './notes.js';
import type { Session } from './session.js';
import { pathOf } from './uris.js';

/** Requests of the server to a client that has the files (`PROTOCOL.md`). */
export const ReadFileRequest = new RequestType<
  { uri: string },
  { text: string } | { reason: string },
  void
>('tiptoe/readFile');
export const FindNotesRequest = new RequestType<{ folder: string }, { uris: string[] }, void>(
  'tiptoe/findNotes',
);

/** Notes at a time: a client answers with all of them at once. */
const PART = 50;

/** Files of a client, for a server in a browser. */
export function clientFiles(session: Session): Files {
  const { connection } = session;
  return {
    async read(path): Promise<FileText> {
      try {
        const answer = await connection.sendRequest(ReadFileRequest, { uri: session.uri(path) });
        return 'text' in answer ? { text: answer.text.replace(/^\ufeff/, '') } : answer;
      } catch {
        return { reason: 'the editor does not give it' };
      }
    },
    async *list(folder) {
      const uri = session.folders.get(folder) ?? session.uri(folder);
      const { uris } = await connection.sendRequest(FindNotesRequest, { folder: uri });
      const paths = uris.map(pathOf).filter((path) => isNote(path) && isSearched(path, folder));
      for (let at = 0; at < paths.length; at += PART) yield paths.slice(at, at + PART);
    },
  };
}
