import {
  DidChangeTextDocumentNotification,
  DidCloseTextDocumentNotification,
  DidOpenTextDocumentNotification,
  DidSaveTextDocumentNotification,
  MessageType,
  TextDocumentSyncKind,
} from 'vscode-languageserver-protocol';
import { isSettings } from '../settings.js';
import { pathOf } from '../uris.js';
import { isNote } from '../notes.js';
import type { Feature } from './feature.js';

/** Keeps the texts of open documents as the client has them. */
export const documents: Feature = {
  capabilities: () => ({
    textDocumentSync: {
      openClose: true,
      change: TextDocumentSyncKind.Incremental,
      save: { includeText: false },
    },
  }),
  register(session) {
    const { connection, store, projects } = session;

    connection.onNotification(DidOpenTextDocumentNotification.type, ({ textDocument }) => {
      if (session.state !== 'running') return;
      const { uri, languageId, version, text } = textDocument;
      const path = pathOf(uri);
      store.opened(uri, path, version, text);
      if (languageId === 'tiptoe' || isNote(path)) projects.add(path);
      if (isSettings(path)) projects.settingsChanged();
      projects.touch(path);
      session.changed();
    });

    connection.onNotification(
      DidChangeTextDocumentNotification.type,
      ({ textDocument: { uri, version }, contentChanges }) => {
        if (session.state !== 'running') return;
        const path = pathOf(uri);
        if (!store.changed(path, version, contentChanges, session.encoding)) {
          session.log(MessageType.Warning, `tiptoe: a change of ${uri}, which is not open, is left out.`); // prettier-ignore
          return;
        }
        if (isSettings(path)) projects.settingsChanged();
        projects.touch(path);
        session.changed(isSettings(path));
      },
    );

    connection.onNotification(DidCloseTextDocumentNotification.type, ({ textDocument }) => {
      if (session.state !== 'running') return;
      const path = pathOf(textDocument.uri);
      store.closed(path);
      if (!session.inFolders(path)) projects.remove(path);
      if (isSettings(path)) projects.settingsChanged();
      projects.touch(path);
      session.changed();
    });

    // What is on the disk is what was in the document.
    connection.onNotification(DidSaveTextDocumentNotification.type, () => undefined);
  },
};
