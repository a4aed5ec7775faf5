import { deepStrictEqual } from 'node:assert';
import { parse } from '@core/syntax/parse.js';
import { bigLog, broken, note } from './notes.js';
import { checksum, visitTree } from './peers/checksum.js';
import { parseByHand } from './peers/hand.js';
import { parseByLezer, visitLezer } from './peers/lezer.js';
import { parseByPeggy } from './peers/peggy.js';
import type { Bench, Row } from './rows.js';
import { fastest, interleaved, type Case } from './timing.js';

const text = note(10_000);
const faulty = broken(text);

/** All parsers read the same: otherwise what they take for it says nothing. */
function agree(of: string): void {
  const ours = parse(of);
  deepStrictEqual(
    ours.units.flatMap(({ unit }) => unit.problems),
    [],
  );
  deepStrictEqual(parseByHand(of), ours);
  const sum = checksum((visit) => visitTree(ours, visit));
  deepStrictEqual(
    checksum((visit) => visitTree(parseByPeggy(of), visit)),
    sum,
  );
  deepStrictEqual(
    checksum((visit) => visitLezer(parseByLezer(of), visit)),
    sum,
  );
}

function speed(of: string, milliseconds: number): number {
  return of.length / 1000 / milliseconds;
}

function short(): Row[] {
  const cases: Case[] = [
    { name: 'ours', run: () => parse(text) },
    { name: 'broken', run: () => parse(faulty) },
    { name: 'hand', run: () => parseByHand(text) },
    { name: 'peggy', run: () => parseByPeggy(text) },
    { name: 'lezer', run: () => parseByLezer(text) },
  ];
  const times = interleaved(cases);
  const of = (name: string): number => times.get(name) ?? NaN;
  const ours = of('ours');
  const figures = (name: string): string =>
    `${speed(text, ours).toFixed(1)} against ${speed(text, of(name)).toFixed(1)} MB/s`;
  return [
    row(
      'parse 10 kB, times as fast as peggy',
      of('peggy') / ours,
      { atLeast: 3 },
      figures('peggy'),
    ),
    row(
      'parse 10 kB, times as fast as lezer',
      of('lezer') / ours,
      { atLeast: 7 },
      figures('lezer'),
    ),
    row('parse 10 kB, of the speed by hand', of('hand') / ours, { atLeast: 0.18 }, figures('hand')),
    row(
      'a fault on every line, times as long',
      of('broken') / ours,
      { atMost: 3 },
      `${of('broken').toFixed(3)} against ${ours.toFixed(3)} ms`,
    ),
  ];
}

function long(): Row[] {
  const base = speed(
    text,
    fastest(() => parse(text), 31, 25),
  );
  const cases = [
    ['10 MB of declarations', note(10_000_000)],
    ['10 MB of one log', bigLog(270_000)],
  ] as const;
  return cases.map(([what, big]) => {
    const slow = speed(
      big,
      fastest(() => parse(big), 5),
    );
    const size = `${(big.length / 1e6).toFixed(1)} MB`;
    const figures = `${base.toFixed(1)} against ${slow.toFixed(1)} MB/s (${size})`;
    return row(`10 kB against ${what}, times as fast`, base / slow, { atMost: 3 }, figures);
  });
}

function row(what: string, measured: number, target: Row['target'], figures: string): Row {
  return { what, measured, target, figures };
}

export const bench: Bench = {
  name: 'parse',
  run() {
    for (const of of [text, note(100_000, 5), bigLog(500)]) agree(of);
    return Promise.resolve([...short(), ...long()]);
  },
};
