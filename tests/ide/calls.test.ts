import { expect, test } from 'vitest';
import { incomingCalls, outgoingCalls, prepareCalls } from '@core/ide/calls.js';
import { world } from './world.js';

/** What the cursor is on, who uses it (`<-`) and what it uses (`->`), with the places of the names. */
function check(marked: string, ...wanted: string[]): void {
  const { analysis, path, offset, texts } = world(marked);
  const items = prepareCalls(analysis, path, offset);
  const lines = items.flatMap((item) => {
    const calls = [
      ...incomingCalls(analysis, item).map((call) => ({ ...call, sign: '<-', in: call.item.path })),
      ...outgoingCalls(analysis, item).map((call) => ({ ...call, sign: '->', in: item.path })),
    ];
    for (const call of calls) {
      for (const { start, end } of call.from) {
        const name = call.sign === '<-' ? item.name : call.item.name;
        expect(texts.get(call.in)?.slice(start, end)).toBe(name);
      }
    }
    return [
      `${item.kind} ${item.name} ${item.path}`,
      ...calls.map(
        ({ sign, item: { kind, name, path: at }, from }) =>
          `${sign} ${kind} ${name} ${at} x${from.length}`,
      ),
    ];
  });
  expect(lines).toEqual(wanted);
}

test('a phrase, from where it is played', () => {
  check(
    `
let step = U
let hop = step D step*2
let twice = (hop) J&(hop)
seen { @lamp : hop -> @pier }
ground deck { hop by (0, 1) }
route over { ho|p [D] step choose far { a { hop } } }
rescue @lamp in over { hop } -> @pier
`,
    'phrase hop note.tiptoe',
    '<- phrase twice note.tiptoe x2',
    '<- seen seen note.tiptoe x1',
    '<- ground deck note.tiptoe x1',
    '<- route over note.tiptoe x2',
    '<- rescue @lamp in over note.tiptoe x1',
    '-> phrase step note.tiptoe x2',
  );
});

test('a route, with the rescues that lead back into it', () => {
  check(
    'let hop = U\nroute ov|er { hop hop D }\nrescue @lamp in over { D } -> @pier',
    'route over note.tiptoe',
    '<- rescue @lamp in over note.tiptoe x1',
    '-> phrase hop note.tiptoe x2',
  );
});

test('a rescue leads to its route and its phrases', () => {
  const { analysis, path } = world(
    'let hop = U\nroute over { D }\nrescue @lamp in over { hop } -> @pier',
  );
  const over = prepareCalls(analysis, path, 'let hop = U\nroute o'.length);
  const [call] = over.flatMap((item) => incomingCalls(analysis, item));
  expect(call?.item.kind).toBe('rescue');
  const out = call === undefined ? [] : outgoingCalls(analysis, call.item);
  expect(out.map(({ item }) => item.name)).toEqual(['over', 'hop']);
  expect(call === undefined ? [] : incomingCalls(analysis, call.item)).toEqual([]);
});

test('across files, those that only a user brings together too', () => {
  check(
    `
//- step.tiptoe
let step = U
//- hop.tiptoe
let h|op = step
//- note.tiptoe
use "step.tiptoe"
use "hop.tiptoe"
route over { hop step }
`,
    'phrase hop hop.tiptoe',
    '<- route over note.tiptoe x1',
    '-> phrase step step.tiptoe x1',
  );
});

test('a phrase in itself', () => {
  check('let ho|p = U hop', 'phrase hop note.tiptoe', '<- phrase hop note.tiptoe x1', '-> phrase hop note.tiptoe x1'); // prettier-ignore
});

test('unknown phrases are left out', () => {
  check('route ov|er { nowhere hop }\nlet hop = U', 'route over note.tiptoe', '-> phrase hop note.tiptoe x1'); // prettier-ignore
});

test('in broken text', () => {
  check('let hop = (U\nroute ov|er { [ hop D4 5', 'route over note.tiptoe', '-> phrase hop note.tiptoe x1'); // prettier-ignore
});

test.each([
  ['a spot', 'route over { U @la|mp }'],
  ['an input', 'let hop = U|'],
  ['a way', 'route over { choose far { a| { U } } }'],
  ['an unknown phrase', 'route over { ho|p }'],
  ['a keyword', 'rou|te over { U }'],
  ['nothing', '|'],
])('%s is not played', (_, marked) => {
  check(marked);
});
