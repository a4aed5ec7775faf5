import * as fs from 'node:fs';
import { EXIT, Trouble, errorCode, systemReason } from './exit.js';
import { dropDrafts, openDraft, placeDraft } from './io.js';

/** Where a command's result goes: standard output, or the file of `--output`. */
export interface Output {
  /**
   * Writes text, or bytes of UTF-8, which may be used again once they are written. A promise comes
   * back where the other end needs time: wait for it before the next write
   * (`const wait = output.write(text); if (wait) await wait;`).
   */
  write(text: string | Uint8Array): Promise<void> | undefined;
  /** Puts the file in its place. Nothing is there before. */
  end(): Promise<void>;
  /** Gives up: what was written to a file is removed. */
  abandon(): void;
  /** Whether nobody reads any more (`| head`): whoever makes rows can stop. */
  readonly closed: boolean;
}

export interface OutputOptions {
  /** The file, or undefined for standard output. */
  readonly file?: string | undefined;
  /** Whether an existing file may be replaced. */
  readonly force?: boolean;
  /** 2 for standard error, where no file is named. */
  readonly stream?: 1 | 2;
}

/** Opens the output. Throws Trouble where the file exists (without `force`) or cannot be made. */
export function openOutput({ file, force = false, stream = 1 }: OutputOptions = {}): Output {
  return file === undefined ? new Screen(stream) : new Draft(file, force);
}

/** Writes a whole text at once, then ends. */
export async function print(text: string, options: OutputOptions = {}): Promise<void> {
  const output = openOutput(options);
  try {
    await output.write(text);
    await output.end();
  } catch (error) {
    output.abandon();
    throw error;
  }
}

/**
 * Standard output by plain writes: making Node's stream for it costs a short command more than all
 * that it prints. The stream is made only where the other end is slow and must be waited for.
 */
class Screen implements Output {
  closed = false;
  #slow = false;

  constructor(readonly stream: 1 | 2) {}

  write(text: string | Uint8Array): Promise<void> | undefined {
    if (this.closed || text.length === 0) return undefined;
    const bytes = typeof text === 'string' ? Buffer.from(text) : text;
    if (this.#slow) return this.#stream(bytes);
    let at = 0;
    while (at < bytes.length) {
      try {
        at += fs.writeSync(this.stream, bytes, at);
      } catch (error) {
        const code = errorCode(error);
        if (code === 'EAGAIN') {
          this.#slow = true;
          return this.#stream(bytes.subarray(at));
        }
        this.#fail(error);
        return undefined;
      }
    }
    return undefined;
  }

  async #stream(bytes: Uint8Array): Promise<void> {
    const stream = this.stream === 1 ? process.stdout : process.stderr;
    // Node reports a lost reader by an event as well, which nobody else listens to.
    if (stream.listenerCount('error') === 0) stream.on('error', () => (this.closed = true));
    const error = await new Promise<Error | null | undefined>((resolve) => {
      stream.write(bytes, resolve);
    });
    if (error) this.#fail(error);
  }

  #fail(error: unknown): void {
    const code = errorCode(error);
    if (code !== 'EPIPE' && code !== 'EOF') {
      throw new Trouble(`standard ${this.stream === 1 ? 'output' : 'error'}`, systemReason(error));
    }
    this.closed = true;
  }

  end(): Promise<void> {
    return Promise.resolve();
  }

  abandon(): void {
    this.closed = true;
  }
}

/** Between two looks for signals while a file is written, in milliseconds. */
const BREATH = 100;

class Draft implements Output {
  readonly closed = false;
  /** Undefined where the place is a device or a pipe, which no rename may take away. */
  readonly #draft: string | undefined;
  readonly #file: number;
  #open = true;
  #breath = Date.now();

  constructor(
    readonly path: string,
    readonly force: boolean,
  ) {
    const status = statusOf(path);
    if (status?.isDirectory() === true) throw new Trouble(path, 'it is a folder, not a file');
    const device = status !== undefined && !status.isFile();
    if (status !== undefined && !device && !force) throw exists(path);
    try {
      if (device) this.#file = fs.openSync(path, 'w');
      else ({ draft: this.#draft, file: this.#file } = openDraft(path));
    } catch (error) {
      throw this.#failed(error);
    }
    process.once('SIGINT', leave);
  }

  write(text: string | Uint8Array): Promise<void> | undefined {
    const bytes = typeof text === 'string' ? Buffer.from(text) : text;
    try {
      // A disk that fills up takes a part first and complains at the next part.
      for (let at = 0; at < bytes.length;) at += fs.writeSync(this.#file, bytes, at);
    } catch (error) {
      throw this.#failed(error);
    }
    const now = Date.now();
    if (now - this.#breath < BREATH) return undefined;
    this.#breath = now;
    return new Promise((resolve) => setImmediate(resolve));
  }

  end(): Promise<void> {
    try {
      this.#close();
      if (this.#draft !== undefined) placeDraft(this.#draft, this.path, this.force);
    } catch (error) {
      this.abandon();
      throw errorCode(error) === 'EEXIST' ? exists(this.path) : this.#failed(error);
    }
    return Promise.resolve();
  }

  abandon(): void {
    this.#close();
    if (this.#draft !== undefined) dropDrafts(this.#draft);
  }

  #close(): void {
    if (this.#open) fs.closeSync(this.#file);
    this.#open = false;
    process.off('SIGINT', leave);
  }

  #failed(error: unknown): Trouble {
    const reason = errorCode(error) === 'ENOENT' ? 'there is no such folder' : systemReason(error);
    return new Trouble(this.path, `it cannot be written: ${reason}`);
  }
}

function statusOf(path: string): fs.Stats | undefined {
  try {
    return fs.statSync(path);
  } catch {
    return undefined; // Not there, or out of reach: opening it says which.
  }
}

function exists(path: string): Trouble {
  return new Trouble(
    path,
    'it exists already',
    'Name another file, or give --force to replace it.',
  );
}

/** Ctrl-C while a file is half written: nothing of it stays. */
function leave(): void {
  dropDrafts();
  process.exit(EXIT.interrupted);
}
