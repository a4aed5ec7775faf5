import { isUtf8 } from 'node:buffer';
import * as fs from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { errorCode, systemReason } from './exit.js';

/** Files over this many bytes are refused unless `--max-size` says otherwise. */
export const MAX_SIZE = 64 * 1024 * 1024;

/** A text without its byte-order mark, and whether it had one (it is put back on writing). */
export interface ReadText {
  readonly text: string;
  readonly bom: boolean;
}

export type ReadResult = ReadText | { readonly reason: string };

/**
 * The text of a file in UTF-8, or why there is none, in words that finish the sentence
 * "FILE: …". Never throws. `maxSize` is in bytes.
 */
export function readText(path: string, maxSize = MAX_SIZE): ReadResult {
  let file: number | undefined;
  try {
    file = fs.openSync(path, 'r');
    const status = fs.fstatSync(file);
    if (status.isDirectory()) return { reason: 'it is a folder, not a file' };
    if (status.size > maxSize) return { reason: tooLarge(status.size, maxSize) };
    // A pipe tells no size: it is read until it ends or is too long.
    const bytes = status.isFile()
      ? fs.readFileSync(file)
      : (readStream(file, maxSize) ?? Buffer.alloc(maxSize + 1));
    return decode(bytes, maxSize);
  } catch (error) {
    return { reason: systemReason(error) };
  } finally {
    if (file !== undefined) fs.closeSync(file);
  }
}

/** The text on standard input, or why there is none. Never throws. */
export function readStdin(maxSize = MAX_SIZE): ReadResult {
  try {
    const bytes = readStream(0, maxSize);
    return bytes === undefined
      ? { reason: tooLarge(maxSize + 1, maxSize) }
      : decode(bytes, maxSize);
  } catch (error) {
    return { reason: systemReason(error) };
  }
}

/** All that a stream gives; undefined where it is more than `most` bytes. */
function readStream(file: number, most: number): Buffer | undefined {
  const parts: Buffer[] = [];
  let total = 0;
  while (total <= most) {
    const part = Buffer.allocUnsafe(65536);
    const got = readSome(file, part);
    if (got === 0) return Buffer.concat(parts, total);
    parts.push(part.subarray(0, got));
    total += got;
  }
  return undefined;
}

function readSome(file: number, part: Buffer): number {
  for (;;) {
    try {
      return fs.readSync(file, part);
    } catch (error) {
      const code = errorCode(error);
      if (code === 'EOF') return 0; // How Windows ends a pipe.
      if (code !== 'EAGAIN') throw error;
      pause(5); // The other end shares a stream that does not block, and has nothing yet.
    }
  }
}

/** Lets the thread sleep, for the few places that must wait without an event. */
export function pause(milliseconds: number): void {
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, milliseconds);
}

function decode(bytes: Buffer, maxSize: number): ReadResult {
  if (bytes.length > maxSize) return { reason: tooLarge(bytes.length, maxSize) };
  if (!isUtf8(bytes)) return { reason: notText(bytes) };
  if (bytes.includes(0))
    return { reason: `it is no text: line ${lineOf(bytes, bytes.indexOf(0))} holds a NUL byte` };
  const bom = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
  return { text: bytes.toString('utf8', bom ? 3 : 0), bom };
}

function notText(bytes: Buffer): string {
  const [first, second] = bytes;
  if ((first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff)) {
    return 'it is UTF-16; save it as UTF-8';
  }
  return `it is not UTF-8 (line ${firstBadLine(bytes)}); save it as UTF-8`;
}

/** No part of a longer character looks like a line end, so each line is good or bad by itself. */
function firstBadLine(bytes: Buffer): number {
  let line = 1;
  for (let start = 0; ; line++) {
    const end = bytes.indexOf(10, start);
    if (end < 0 || !isUtf8(bytes.subarray(start, end))) return line;
    start = end + 1;
  }
}

/** The line, from 1, that holds a byte. */
function lineOf(bytes: Buffer, at: number): number {
  let line = 1;
  for (let next = bytes.indexOf(10); next >= 0 && next < at; next = bytes.indexOf(10, next + 1)) {
    line++;
  }
  return line;
}

function tooLarge(size: number, limit: number): string {
  return `it is over the limit of ${sizeWords(limit)} (${sizeWords(size)}); --max-size sets another`;
}

/** 64 MB, 10 kB, 12 bytes: binary multiples, rounded up so that "over" stays true. */
export function sizeWords(bytes: number): string {
  if (bytes >= 1024 * 1024) return `${Math.ceil((bytes / 1024 / 1024) * 10) / 10} MB`;
  if (bytes >= 10 * 1024) return `${Math.ceil((bytes / 1024) * 10) / 10} kB`;
  return `${bytes} bytes`;
}

/** Drafts that are not in their place yet; whoever ends the process early removes them. */
const drafts = new Set<string>();

/** A new, empty file beside `path`, to be filled and then put in its place. */
export function openDraft(path: string): { readonly draft: string; readonly file: number } {
  const draft = join(
    dirname(path),
    `.${basename(path).slice(0, 100)}.${process.pid}-${Date.now().toString(36)}.tmp`,
  );
  const file = fs.openSync(draft, 'wx', 0o666);
  drafts.add(draft);
  return { draft, file };
}

/** Puts a finished draft in its place. Without `replace` an existing file stays and this throws EEXIST. */
export function placeDraft(draft: string, path: string, replace: boolean): void {
  if (replace) fs.renameSync(draft, path);
  else {
    // A link, unlike a rename, refuses where something has appeared in the meantime.
    try {
      fs.linkSync(draft, path);
    } catch (error) {
      if (errorCode(error) === 'EEXIST' || fs.existsSync(path)) throw error;
      fs.renameSync(draft, path); // A disk without links.
      drafts.delete(draft);
      return;
    }
    fs.unlinkSync(draft);
  }
  drafts.delete(draft);
}

/** Removes a draft, or every one that is left. */
export function dropDrafts(only?: string): void {
  for (const draft of only === undefined ? [...drafts] : [only]) {
    drafts.delete(draft);
    fs.rmSync(draft, { force: true });
  }
}

/**
 * Writes a file so that anyone sees the old one or the whole new one, never half: into a draft
 * beside it, then renamed. A link is followed, and the mode of the file is kept. Without `replace`
 * an existing file stays and this throws EEXIST; other errors of the system are thrown as they are.
 */
export function writeFileSafe(
  path: string,
  text: string,
  options: { readonly replace: boolean; readonly bom?: boolean },
): void {
  const target = options.replace ? followed(path) : path;
  if (!options.replace && fs.existsSync(path))
    throw Object.assign(new Error('exists'), { code: 'EEXIST' });
  const mode = options.replace ? modeOf(target) : undefined;
  // A draft could be renamed over a file that nobody may write; the file's own mode decides.
  if (mode !== undefined) fs.accessSync(target, fs.constants.W_OK);
  const { draft, file } = openDraft(target);
  try {
    try {
      fs.writeFileSync(file, (options.bom === true ? '\ufeff' : '') + text);
      if (mode !== undefined) fs.fchmodSync(file, mode);
      fs.fsyncSync(file);
    } finally {
      fs.closeSync(file);
    }
    placeDraft(draft, target, options.replace);
  } catch (error) {
    dropDrafts(draft);
    throw error;
  }
}

function followed(path: string): string {
  try {
    return fs.realpathSync(path);
  } catch {
    return path;
  }
}

function modeOf(path: string): number | undefined {
  try {
    return fs.statSync(path).mode & 0o7777;
  } catch {
    return undefined;
  }
}
