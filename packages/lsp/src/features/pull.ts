import {
  DiagnosticRefreshRequest,
  DocumentDiagnosticReportKind,
  DocumentDiagnosticRequest,
  type FullDocumentDiagnosticReport,
  type UnchangedDocumentDiagnosticReport,
  WorkspaceDiagnosticRequest,
  type WorkspaceDocumentDiagnosticReport,
} from 'vscode-languageserver-protocol';
import { reportOf, type Report } from '../findings.js';
import { Progress } from '../progress.js';
import type { Session } from '../session.js';
import { pathOf } from '../uris.js';
import type { Wanted } from '../work.js';
import type { Feature } from './feature.js';

/** Reports are sent on when so many wait, where the client takes parts. */
const PART = 20;

/** Findings that the client asks for, of a document or of everything. */
export const pull: Feature = {
  capabilities: () => ({
    diagnosticProvider: {
      identifier: 'tiptoe',
      interFileDependencies: true,
      workspaceDiagnostics: true,
      workDoneProgress: true,
    },
  }),
  register(session) {
    const results = new Results();

    session.on(DocumentDiagnosticRequest.type, async (params, token) => {
      const path = pathOf(params.textDocument.uri);
      await session.settle('answer', token);
      const main = results.tell(await reported(session, path, token), params.previousResultId);
      if (session.client.textDocument?.diagnostic?.relatedDocumentSupport !== true) return main;
      const related: Record<string, FullDocumentDiagnosticReport> = {};
      for (const other of session.dependants(path)) {
        const report = await reported(session, other, token);
        const told = results.tellNews(report);
        if (told !== undefined) related[session.uri(other)] = told;
      }
      return Object.keys(related).length === 0 ? main : { ...main, relatedDocuments: related };
    });

    session.on(WorkspaceDiagnosticRequest.type, async (params, token) => {
      const progress = new Progress(session, params.workDoneToken, 'Checking notes');
      await session.everyNote();
      await session.settle('rest', token);
      const before = new Map(
        params.previousResultIds.map(({ uri, value }) => [pathOf(uri), { uri, value }]),
      );
      let items: WorkspaceDocumentDiagnosticReport[] = [];
      const sendPart = (): void => {
        if (params.partialResultToken === undefined || items.length === 0) return;
        session.tell(
          session.connection.sendProgress(
            WorkspaceDiagnosticRequest.partialResult,
            params.partialResultToken,
            { items },
          ),
        );
        items = [];
      };
      const paths = session.reported();
      let at = 0;
      try {
        for (const path of paths) {
          const report = await reported(session, path, token, 'rest');
          const told = results.tell(report, before.get(path)?.value);
          items.push({ ...told, uri: session.uri(path), version: report.version ?? null });
          before.delete(path);
          progress.at(++at, paths.size);
          if (items.length >= PART) sendPart();
        }
        for (const [path, { uri }] of before) {
          results.forget(path);
          items.push({ kind: DocumentDiagnosticReportKind.Full, uri, version: null, items: [] });
        }
        sendPart();
        return { items };
      } finally {
        progress.end();
      }
    });

    session.onElsewhere.push(() => {
      if (!session.pulls) return;
      if (session.client.workspace?.diagnostics?.refreshSupport !== true) return;
      session.ask(DiagnosticRefreshRequest.type);
    });
  },
};

function reported(
  session: Session,
  path: string,
  token: Wanted,
  urgency: 'answer' | 'rest' = 'answer',
): Promise<Report> {
  // prettier-ignore
  return session.work.run(reportOf(session, path), urgency, token);
}

type Told = FullDocumentDiagnosticReport | UnchangedDocumentDiagnosticReport;

/** What each file was last told, under ids that mean the same findings as long as they are known. */
class Results {
  readonly #last = new Map<string, { id: string; told: string }>();
  #count = 0;

  tell(report: Report, previous: string | undefined): Told {
    const resultId = this.#idOf(report);
    if (previous === resultId) return { kind: DocumentDiagnosticReportKind.Unchanged, resultId };
    const items = [...report.diagnostics];
    return { kind: DocumentDiagnosticReportKind.Full, resultId, items };
  }

  /** The report where it differs from the last one of its file. */
  tellNews(report: Report): FullDocumentDiagnosticReport | undefined {
    const before = this.#last.get(report.path)?.id;
    const resultId = this.#idOf(report);
    if (before === resultId) return undefined;
    const items = [...report.diagnostics];
    return { kind: DocumentDiagnosticReportKind.Full, resultId, items };
  }

  forget(path: string): void {
    this.#last.delete(path);
  }

  #idOf({ path, diagnostics }: Report): string {
    const told = JSON.stringify(diagnostics);
    const last = this.#last.get(path);
    if (last?.told === told) return last.id;
    const id = `${++this.#count}`;
    this.#last.set(path, { id, told });
    return id;
  }
}
