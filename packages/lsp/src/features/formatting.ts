import {
  FORMAT_TRIGGERS,
  formatFile,
  formatOnType,
  formatRange,
} from '@tiptoe/notation-core/ide/format';
import {
  DocumentFormattingRequest,
  DocumentOnTypeFormattingRequest,
  DocumentRangeFormattingRequest,
  DocumentRangesFormattingRequest,
  type TextEdit,
} from 'vscode-languageserver-protocol';
import type { View } from '../view.js';
import type { Steps } from '../work.js';
import type { Feature } from './feature.js';

/** Declarations that are laid out in one go. */
const PART = 100;

/** The agreed layout, of everything, of ranges, or of what is being written. */
export const formatting: Feature = {
  capabilities: (client) => ({
    documentFormattingProvider: true,
    documentRangeFormattingProvider:
      client.textDocument?.rangeFormatting?.rangesSupport === true ? { rangesSupport: true } : true,
    documentOnTypeFormattingProvider: {
      firstTriggerCharacter: FORMAT_TRIGGERS[0],
      moreTriggerCharacter: FORMAT_TRIGGERS.slice(1),
    },
  }),
  register(session) {
    session.about(DocumentFormattingRequest.type, (view) => formatted(view));
    session.about(DocumentRangeFormattingRequest.type, (view, { range }) => {
      const { start, end } = view.span(range);
      return view.edits(formatRange(view.analysis, view.path, start, end));
    });
    session.about(DocumentRangesFormattingRequest.type, function* (view, { ranges }): Steps<
      TextEdit[]
    > {
      const made: TextEdit[] = [];
      let behind = -1;
      for (const { start, end } of ranges
        .map((range) => view.span(range))
        .sort((a, b) => a.start - b.start)) {
        const edits = formatRange(view.analysis, view.path, start, end);
        // Two ranges of one line have the edits of that line once.
        made.push(...view.edits(edits.filter(({ span }) => span.start > behind)));
        behind = Math.max(behind, edits.at(-1)?.span.start ?? -1);
        yield;
      }
      return made;
    });
    session.about(DocumentOnTypeFormattingRequest.type, (view, { position, ch }) =>
      view.edits(formatOnType(view.analysis, view.path, view.offset(position), ch)),
    );
  },
};

/** A long note part by part. Parts share a declaration, so that every gap is inside of one. */
function* formatted(view: View): Steps<TextEdit[]> {
  const { units, text } = view.file.tree;
  if (units.length <= 2 * PART) return view.edits(formatFile(view.analysis, view.path));
  const made: TextEdit[] = [];
  let behind = -1;
  for (let at = 0; at < units.length; at += PART) {
    const from = units[at]?.start ?? 0;
    const to = units[at + PART + 2]?.start ?? text.length;
    const edits = formatRange(view.analysis, view.path, from, to);
    for (const edit of edits) {
      if (edit.span.start <= behind) continue;
      made.push(...view.edits([edit]));
      behind = edit.span.start;
    }
    yield;
  }
  return made;
}
