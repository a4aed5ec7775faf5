import {
  type ProgressToken,
  WorkDoneProgress,
  type WorkDoneProgressBegin,
  type WorkDoneProgressEnd,
  type WorkDoneProgressReport,
  WorkDoneProgressCreateRequest,
} from 'vscode-languageserver-protocol';
import type { Session } from './session.js';

/** Tells the client how far a long piece of work is, where it wants to know. */
export class Progress {
  #percentage = 0;

  constructor(
    readonly session: Session,
    readonly token: ProgressToken | undefined,
    title: string,
  ) {
    this.#send({ kind: 'begin', title, percentage: 0 });
  }

  /** Progress of work that the server began by itself. */
  static async start(session: Session, title: string): Promise<Progress> {
    const { connection, client } = session;
    if (client.window?.workDoneProgress !== true) return new Progress(session, undefined, title);
    const token = `tiptoe-${++session.progressCount}`;
    try {
      await connection.sendRequest(WorkDoneProgressCreateRequest.type, { token });
    } catch {
      return new Progress(session, undefined, title); // The client refused; the work goes on.
    }
    return new Progress(session, token, title);
  }

  /** `done` of `all`. What changes no whole percent is not told. */
  at(done: number, all: number): void {
    const percentage = Math.floor((100 * done) / Math.max(1, all));
    if (percentage <= this.#percentage) return;
    this.#percentage = percentage;
    this.#send({ kind: 'report', percentage, message: `${done} of ${all}` });
  }

  end(): void {
    this.#send({ kind: 'end' });
  }

  #send(value: WorkDoneProgressBegin | WorkDoneProgressReport | WorkDoneProgressEnd): void {
    if (this.token === undefined) return;
    this.session.tell(
      this.session.connection.sendProgress(WorkDoneProgress.type, this.token, value),
    );
  }
}
