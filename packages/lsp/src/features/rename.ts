import {
  prepareRename,
  rename as renameAt,
  type RenameConflict,
} from '@tiptoe/notation-core/ide/rename';
import { describeConflict } from '@tiptoe/notation-core/ide/rename-words';
import {
  LSPErrorCodes,
  MessageType,
  PrepareRenameRequest,
  RenameRequest,
  ResponseError,
  ShowMessageNotification,
  type WorkspaceEdit,
} from 'vscode-languageserver-protocol';
import type { Session } from '../session.js';
import { type FileEdit, workspaceEdit } from '../view.js';
import { pathOf } from '../uris.js';
import type { Feature } from './feature.js';

/** Another name for something, everywhere. Conflicts are shown before anything is done. */
export const rename: Feature = {
  capabilities: (client) => ({
    renameProvider:
      client.textDocument?.rename?.prepareSupport === true ? { prepareProvider: true } : true,
  }),
  register(session) {
    session.about(PrepareRenameRequest.type, (view, { position }) => {
      const place = prepareRename(view.analysis, view.path, view.offset(position));
      return place === undefined ? null : { range: view.range(place), placeholder: place.name };
    });

    session.on(RenameRequest.type, async ({ textDocument, position, newName }, token) => {
      await session.everyNote();
      const view = await session.view(textDocument.uri, 'answer', token);
      if (view === undefined) return null;
      const path = pathOf(textDocument.uri);
      const offset = view.offset(position);
      const edits = new Map<string, FileEdit>();
      const conflicts = new Map<string, RenameConflict>();
      for (const analysis of session.analysesWith(path)) {
        const renamed = renameAt(analysis, path, offset, newName);
        for (const conflict of renamed?.conflicts ?? []) conflicts.set(describeConflict(conflict), conflict); // prettier-ignore
        for (const { path: of, edits: own } of renamed?.edits ?? []) {
          for (const { span, text } of own)
            edits.set(`${span.start} ${of}`, { path: of, span, text });
        }
      }
      return decided(session, [...edits.values()], conflicts);
    });
  },
};

/** Refused where it cannot be; to be confirmed where the client can ask; else only what harms nothing. */
function decided(
  session: Session,
  edits: readonly FileEdit[],
  conflicts: ReadonlyMap<string, RenameConflict>,
): WorkspaceEdit | null {
  const words = [...conflicts.keys()].join(' ');
  const reasons = new Set([...conflicts.values()].map(({ reason }) => reason));
  const can = session.client.workspace?.workspaceEdit;
  const asks = can?.documentChanges === true && can.changeAnnotationSupport !== undefined;
  if (edits.length === 0 || (reasons.has('taken') && !asks) || reasons.has('reserved')) {
    if (words === '') return null;
    throw new ResponseError(LSPErrorCodes.RequestFailed, words);
  }
  const edit = workspaceEdit(session, edits, (path, span) => session.viewNow(path)?.range(span));
  if (words === '') return edit;
  if (!asks) {
    const type = MessageType.Warning;
    session.tell(
      session.connection.sendNotification(ShowMessageNotification.type, {
        type,
        message: words,
      }),
    );
    return edit;
  }
  const annotationId = 'conflict';
  const documentChanges = (edit.documentChanges ?? []).map((change) =>
    'edits' in change
      ? { ...change, edits: change.edits.map((each) => ({ ...each, annotationId })) }
      : change,
  );
  const label = 'Rename all the same';
  return {
    documentChanges,
    changeAnnotations: { [annotationId]: { label, needsConfirmation: true, description: words } },
  };
}
