import {
  type ActionKind,
  type CodeAction as Action,
  codeActions as actionsOf,
  fixAll,
} from '@tiptoe/notation-core/ide/code-actions';
import {
  type CodeAction,
  CodeActionKind,
  CodeActionRequest,
  CodeActionTriggerKind,
} from 'vscode-languageserver-protocol';
import { diagnosticOf } from '../findings.js';
import type { View } from '../view.js';
import type { Steps } from '../work.js';
import type { Feature } from './feature.js';

/** Everything safe at once; an editor can run it on saving. */
const FIX_ALL = `${CodeActionKind.SourceFixAll}.tiptoe`;

const KINDS: Readonly<Record<ActionKind, string>> = {
  fix: CodeActionKind.QuickFix,
  silence: CodeActionKind.QuickFix,
  row: CodeActionKind.QuickFix,
  extract: CodeActionKind.RefactorExtract,
  inline: CodeActionKind.RefactorInline,
  rewrite: CodeActionKind.RefactorRewrite,
};

/** Fixes by their safety, silences, missing rows and refactorings. */
export const codeActions: Feature = {
  capabilities: () => ({
    codeActionProvider: { codeActionKinds: [...new Set(Object.values(KINDS)), FIX_ALL] },
  }),
  register(session) {
    session.about(CodeActionRequest.type, function* (view, { range, context }): Steps<
      CodeAction[]
    > {
      const { only, triggerKind } = context;
      const wants = (kind: string): boolean =>
        only === undefined || only.some((each) => each === '' || kind === each || kind.startsWith(`${each}.`)); // prettier-ignore
      const kinds = new Set((Object.keys(KINDS) as ActionKind[]).filter((kind) => wants(KINDS[kind]))); // prettier-ignore
      const { start, end } = view.span(range);
      const made: CodeAction[] = [];
      if (kinds.size > 0) {
        const found = actionsOf(view.analysis, view.path, start, end, kinds);
        made.push(...found.map((action) => actionOf(view, action)));
      }
      yield;
      // Its words need a whole check: made where it is asked for by name, or by hand.
      const asked = only !== undefined || triggerKind === CodeActionTriggerKind.Invoked;
      if (asked && wants(FIX_ALL)) {
        const all = fixAll(view.analysis, view.path);
        if (all !== undefined && all.applied > 0) {
          made.push({ title: all.title, kind: FIX_ALL, edit: editOf(view, view.path, all.edits) });
        }
      }
      return made;
    });
  },
};

function actionOf(view: View, { title, kind, safety, path, edits, finding }: Action): CodeAction {
  return {
    title: safety === 'changes-timing' ? `${title} (changes the timing)` : title,
    kind: KINDS[kind],
    edit: editOf(view, path, edits),
    ...(finding === undefined ? {} : { diagnostics: [diagnosticOf(view, finding)] }),
    // Editors apply what is preferred without a look.
    ...(kind === 'fix' && safety === 'safe' ? { isPreferred: true } : {}),
  };
}

function editOf(view: View, path: string, edits: Action['edits']) {
  return view.workspaceEdit(edits.map(({ span, text }) => ({ path, span, text })));
}
