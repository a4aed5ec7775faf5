import { expect, test } from 'vitest';
import { folds } from '@core/ide/folding.js';
import { draw, world } from './world.js';

/** `«…»` is what goes when a block or the uses are folded, `‹…›` when comments are. */
function check(marked: string): void {
  const { analysis, path, texts, wanted } = world(marked);
  const spans = folds(analysis, path).map((fold) => ({
    ...fold, path, second: fold.kind === 'comment' || fold.kind === 'docs',
  })); // prettier-ignore
  expect(draw(texts, spans)).toEqual(wanted);
}

test('blocks, up to the line in front of their closing brace', () => {
  check(`
game "Pier" {«
  clock 50
  inputs {
    D = y +1«
    U = y -1»
  }
  pause P {«
    open 4»
  }»
}
seen {«
  @lamp : U -> @pier»
}
hands {«
  reset 14s»
}
`);
});

test('choices, ways and brackets', () => {
  check(`
route over from anywhere {«
  choose far {«
    a {«
      U»
    }
    b { D }»
  }
  (U«
   D)*2»
  [«
    U1»
  ]
  J&(«
    .4»
  )»
}
`);
});

test('a phrase over several lines', () => {
  check('let hop = U«\n  D\n  R»\nlet skip = U D');
});

test('runs of comments, documentation apart', () => {
  check(`
# one‹
# two›

# alone

## docs‹
## more›
# and‹
# others
  # indented›
let hop = U # behind
# below
`);
});

test('comments inside a block', () => {
  check('route over {«\n  # one‹\n  # two›\n  U # three\n  # four\n  D»\n}');
});

test('the uses of a file', () => {
  check('use "a.tiptoe"«\nuse "b.tiptoe"\n\nuse "c.tiptoe"»\nlet hop = U\nuse "d.tiptoe"\n');
});

test('with CRLF', () => {
  check('route over {«\r\n  U»\r\n}\r\n# a‹\r\n# b›\r\nlet a = U');
});

test('an open block goes to its last line', () => {
  check('route over {«\n  U\n  (D«\n  R»»\n\nlet hop = U');
});

test.each([
  '',
  'let hop = U D',
  'route over { U }',
  '# one',
  'use "a.tiptoe"',
  '???\n???',
  '\n\n\n',
])('nothing to fold in %j', (text) => check(text));
