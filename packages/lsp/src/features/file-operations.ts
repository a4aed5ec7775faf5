import { type Move, useEdits } from '@tiptoe/notation-core/ide/use-edits';
import {
  DidCreateFilesNotification,
  DidDeleteFilesNotification,
  DidRenameFilesNotification,
  FileChangeType,
  type FileOperationRegistrationOptions,
  type WorkspaceEdit,
  WillRenameFilesRequest,
} from 'vscode-languageserver-protocol';
import type { Session } from '../session.js';
import { pathOf } from '../uris.js';
import { type FileEdit, workspaceEdit } from '../view.js';
import type { Feature } from './feature.js';
import { fileChanged } from './workspace.js';

/** Notes, and the folders that may hold some. */
const FILTERS: FileOperationRegistrationOptions = {
  filters: [
    { pattern: { glob: '**/*.tiptoe', matches: 'file' } },
    { pattern: { glob: '**/*', matches: 'folder' } },
  ],
};

/** A note that moves takes every `use` of it along, and its own. */
export const fileOperations: Feature = {
  capabilities: () => ({
    workspace: {
      fileOperations: {
        willRename: FILTERS,
        didRename: FILTERS,
        didCreate: FILTERS,
        didDelete: FILTERS,
      },
    },
  }),
  register(session) {
    const { connection } = session;

    session.on(
      WillRenameFilesRequest.type,
      async ({ files }, token): Promise<WorkspaceEdit | null> => {
        await session.everyNote();
        await session.settle('answer', token);
        const moved = files.map(({ oldUri, newUri }) => ({
          from: pathOf(oldUri),
          to: pathOf(newUri),
        }));
        return editsFor(session, moved);
      },
    );

    connection.onNotification(DidRenameFilesNotification.type, ({ files }) => {
      for (const { oldUri, newUri } of files) {
        const from = pathOf(oldUri);
        const to = pathOf(newUri);
        // What moves with its folder is new where the folder is new.
        const inside = [...session.projects.notes].filter((note) => note.startsWith(`${from}/`));
        fileChanged(session, from, FileChangeType.Deleted);
        for (const note of inside) {
          fileChanged(session, to + note.slice(from.length), FileChangeType.Created);
        }
        fileChanged(session, to, FileChangeType.Created);
      }
      session.changed(true);
    });

    connection.onNotification(DidCreateFilesNotification.type, ({ files }) => {
      for (const { uri } of files) fileChanged(session, pathOf(uri), FileChangeType.Created);
      session.changed(true);
    });

    connection.onNotification(DidDeleteFilesNotification.type, ({ files }) => {
      for (const { uri } of files) fileChanged(session, pathOf(uri), FileChangeType.Deleted);
      session.changed(true);
    });
  },
};

function editsFor(session: Session, moves: readonly Move[]): WorkspaceEdit | null {
  const edits = new Map<string, FileEdit[]>();
  for (const { current } of session.projects.all) {
    if (current === undefined) continue;
    // A file that several projects hold is the same in each.
    for (const { path, edits: own } of useEdits(current, moves)) {
      edits.set(path, own.map(({ span, text }) => ({ path, span, text }))); // prettier-ignore
    }
  }
  if (edits.size === 0) return null;
  return workspaceEdit(session, [...edits.values()].flat(), (path, span) =>
    session.viewNow(path)?.range(span),
  );
}
