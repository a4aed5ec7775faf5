import { PublishDiagnosticsNotification } from 'vscode-languageserver-protocol';
import { type Report, reportOf } from '../findings.js';
import type { Session } from '../session.js';
import { Dropped, type Wanted } from '../work.js';
import type { Feature } from './feature.js';

/**
 * Findings that the server sends by itself, to clients that do not ask for them. Whenever a
 * file changes, the run before is dropped: what is still right of it is kept by the analysis.
 */
export const push: Feature = {
  register(session) {
    const publisher = new Publisher(session);
    session.onChange.push(() => publisher.restart());
  },
};

class Publisher {
  /** What the client shows, as it was sent. */
  readonly #shown = new Map<string, string>();
  #run: { isCancellationRequested: boolean } | undefined;

  constructor(readonly session: Session) {}

  restart(): void {
    if (this.#run !== undefined) this.#run.isCancellationRequested = true;
    if (this.session.pulls) return;
    const run = { isCancellationRequested: false };
    this.#run = run;
    this.#check(run).catch((error: unknown) => {
      if (!(error instanceof Dropped)) this.session.complain('findings', error);
    });
  }

  async #check(wanted: Wanted): Promise<void> {
    const { session } = this;
    await session.settle('open', wanted);
    const paths = session.reported();
    for (const path of this.#shown.keys()) {
      if (!paths.has(path)) this.#send({ path, version: undefined, diagnostics: [] });
    }
    for (const path of paths) {
      const urgency = session.store.open.has(path) ? 'open' : 'rest';
      this.#send(await session.work.run(reportOf(session, path), urgency, wanted));
    }
  }

  /** Sends what differs from what is shown. A new version is told even where nothing else is new. */
  #send({ path, version, diagnostics }: Report): void {
    const { session } = this;
    const uri = session.uri(path);
    const told = JSON.stringify([uri, version, diagnostics]);
    const before = this.#shown.get(path);
    if (before === told || (before === undefined && diagnostics.length === 0 && version === undefined)) return; // prettier-ignore
    if (diagnostics.length === 0 && version === undefined) this.#shown.delete(path);
    else this.#shown.set(path, told);
    session.tell(
      session.connection.sendNotification(PublishDiagnosticsNotification.type, {
        uri,
        diagnostics: [...diagnostics],
        ...(version !== undefined && session.client.textDocument?.publishDiagnostics?.versionSupport === true // prettier-ignore
          ? { version }
          : {}),
      }),
    );
  }
}
