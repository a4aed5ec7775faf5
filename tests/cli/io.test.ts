import {
  chmodSync,
  existsSync,
  linkSync,
  mkdirSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { oneLine, systemReason, troubleLine } from '@core/cli/exit.js';
import {
  MAX_SIZE,
  dropDrafts,
  openDraft,
  readText,
  sizeWords,
  writeFileSafe,
} from '@core/cli/io.js';
import { readValue } from '@core/cli/values.js';
import { Folder } from './folder.js';

describe('reading', () => {
  test('any bytes give a text or a reason, the text exactly what a strict decoder gives', () => {
    const folder = new Folder();
    fc.assert(
      fc.property(
        fc.oneof(
          fc.uint8Array({ maxLength: 40 }),
          fc.string({ unit: 'binary', maxLength: 20 }).map((text) => Buffer.from(text)),
        ),
        (bytes) => {
          folder.write('a', bytes);
          const found = readText(folder.at('a'));
          let strict: string | undefined;
          try {
            strict = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
          } catch {
            strict = undefined;
          }
          if (strict === undefined || strict.includes('\0')) expect(found).toHaveProperty('reason');
          else {
            const bom = strict.startsWith('\ufeff');
            expect(found).toEqual({ text: bom ? strict.slice(1) : strict, bom });
          }
        },
      ),
      { numRuns: 500 },
    );
  });

  test('names the line of the first byte that is wrong', () => {
    const folder = new Folder();
    fc.assert(
      fc.property(fc.array(fc.constantFrom('D R\n', '茶\n', '🦊', '\u00e9')), (lines) => {
        const good = Buffer.from(lines.join(''));
        folder.write('a', Buffer.concat([good, Uint8Array.of(0xff), good, Uint8Array.of(0x80)]));
        const line = lines.join('').split('\n').length;
        expect(readText(folder.at('a'))).toEqual({
          reason: `it is not UTF-8 (line ${line}); save it as UTF-8`,
        });
      }),
    );
  });

  test('says why not', () => {
    const folder = new Folder({ a: '' });
    mkdirSync(folder.at('folder'));
    symlinkSync('nowhere', folder.at('dangling'));
    const reason = (path: string) => readText(folder.at(path));
    expect(reason('folder')).toEqual({ reason: 'it is a folder, not a file' });
    expect(reason('dangling')).toEqual({ reason: 'there is no such file' });
    expect(reason('a/b')).toEqual({ reason: 'a part of its path is a file, not a folder' });
    expect(reason('x'.repeat(300))).toEqual({ reason: 'its name is too long' });
    expect(readText('a\0b')).toHaveProperty('reason');
  });

  test('takes a file of the limit and refuses one byte more', () => {
    const folder = new Folder({ a: 'x'.repeat(100) });
    expect(readText(folder.at('a'), 100)).toEqual({ text: 'x'.repeat(100), bom: false });
    expect(readText(folder.at('a'), 99)).toHaveProperty('reason');
  });

  test('reads a pipe, up to the limit', () => {
    const folder = new Folder();
    const { stdout, stderr } = folder.shell(
      `tiptoe check <(echo 'let a = D') | tail -n 1; tiptoe check --max-size 10 <(yes)`,
    );
    expect(stdout).toMatch(/^1 note checked: /);
    expect(stderr).toMatch(/over the limit of 10 bytes/);
  });
});

describe('writing', () => {
  test('replaces only where it may', () => {
    const folder = new Folder({ a: 'old' });
    expect(() => writeFileSafe(folder.at('a'), 'new', { replace: false })).toThrow();
    expect(folder.read('a')).toBe('old');
    writeFileSafe(folder.at('a'), 'new', { replace: true, bom: true });
    expect(folder.read('a')).toBe('\ufeffnew');
    writeFileSafe(folder.at('b'), 'fresh', { replace: false });
    expect(folder.read('b')).toBe('fresh');
    expect(folder.list()).toEqual(['a', 'b']);
  });

  test('leaves the old file and no draft where it fails', () => {
    const folder = new Folder();
    expect(() => writeFileSafe(folder.at('no/such'), 'x', { replace: true })).toThrow();
    mkdirSync(folder.at('taken'));
    expect(() => writeFileSafe(folder.at('taken'), 'x', { replace: true })).toThrow();
    expect(folder.list()).toEqual(['taken']);
  });

  test('keeps the mode, and parts from no other name of the file than it must', () => {
    const folder = new Folder({ a: 'old' });
    chmodSync(folder.at('a'), 0o600);
    linkSync(folder.at('a'), folder.at('other'));
    writeFileSafe(folder.at('a'), 'new', { replace: true });
    expect(statSync(folder.at('a')).mode & 0o777).toBe(0o600);
    // A second hard link keeps the old text: half a text would be worse.
    expect(folder.read('other')).toBe('old');
  });

  test('a draft that is given up is gone', () => {
    const folder = new Folder();
    const { draft } = openDraft(folder.at('a'));
    writeFileSync(draft, 'half');
    expect(existsSync(draft)).toBe(true);
    dropDrafts();
    expect(folder.list()).toEqual([]);
  });
});

describe('words', () => {
  test('a trouble is one line, whatever it speaks of', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), fc.string(), fc.string(), (place, reason, way) => {
        expect(troubleLine(place, reason, way)).not.toMatch(/\p{Cc}|[\u2028\u2029]/u);
      }),
    );
    expect(troubleLine('a', 'is gone.', 'Look.')).toBe('a: is gone. Look.');
    expect(oneLine('a\r\n  b\u001bc')).toBe('a b\ufffdc');
  });

  test('an error that nobody foresaw has its reason too', () => {
    expect(systemReason({ code: 'EWEIRD' })).toBe('the system says EWEIRD');
    expect(systemReason(new Error('two\nlines'))).toBe('Error: two lines');
    expect(systemReason(undefined)).toBe('undefined');
  });

  test.each([
    [0, '0 bytes'],
    [9999, '9999 bytes'],
    [10 * 1024, '10 kB'],
    [64 * 1024 * 1024, '64 MB'],
    [64 * 1024 * 1024 + 1, '64.1 MB'],
  ])('%i bytes are %s', (bytes, words) => expect(sizeWords(bytes)).toBe(words));

  test.each([
    ['64MB', MAX_SIZE],
    ['64mb', MAX_SIZE],
    ['1k', 1024],
    ['17', 17],
    ['17B', 17],
    ['0', undefined],
    ['-1', undefined],
    ['1.5MB', undefined],
    ['1TB', undefined],
    ['', undefined],
    ['9999999999999', undefined],
  ])('a size of %j', (written, bytes) => {
    const read = () => readValue({ flags: '--max-size <size>', summary: '', size: true }, written);
    if (bytes === undefined) expect(read).toThrow('--max-size');
    else expect(read()).toBe(bytes);
  });
});
