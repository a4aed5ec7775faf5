import fc from 'fast-check';

/**
 * Random valid notes over the whole language: every name is declared, every bracket closed.
 *
 * Notes are made as skeletons, in which three signs stand for white space; `tidy` puts the
 * least there, and `messy` anything that the language allows: blanks, tabs, line ends of all
 * kinds, comments.
 */
const GAP = '\u0001';
const MAY = '\u0002';
const LINE = '\u0003';

const CHORDS = ['U', 'D', 'L', 'R', 'J', 'S', 'UR', 'DL', 'DJ', 'RJS', 'W'];
const SPOTS = ['reed', 'tern', 'mud', 'sedge', 'rush', 'past'];
const PAUSED = ['snag', 'eddy'];
const PHRASES = ['shuffle', 'hop', 'long_way', 'zig2'];
const WORDS = [
  'tap until you sit',
  'café ☂ “quoted”',
  '',
  'a \\"b\\" \\\\ c',
  '# no comment',
  '-> }',
];

export interface ItemOptions {
  /** Brackets in brackets. */
  readonly depth: number;
  /** Phrases that may be named. */
  readonly phrases: readonly string[];
  /** Whether `until`, claims, notes and `choose` may stand here. */
  readonly route: boolean;
}

const oneOf = (values: readonly string[]) => fc.constantFrom(...values);
const number = (max: number) => fc.integer({ min: 1, max }).map(String);
const text = oneOf(WORDS).map((words) => `"${words}"`);
const claim = oneOf([...SPOTS, ...PAUSED]).map((name) => `@${name}`);

const count = fc.oneof(
  { weight: 6, arbitrary: fc.constant('') },
  { weight: 6, arbitrary: number(40) },
  { weight: 1, arbitrary: number(4).map((lo) => `${lo}..${Number(lo) + 2}`) },
  { weight: 1, arbitrary: number(50).map((n) => `${Number(n) * 20}ms`) },
);
const press = fc.tuple(oneOf(CHORDS), count).map(([chord, n]) => chord + n);
const wait = count.map((n) => `.${n}`);

function repeated(unit: fc.Arbitrary<string>, route: boolean): fc.Arbitrary<string> {
  const times = fc.oneof(
    { weight: 6, arbitrary: number(9).map((n) => `*${n}`) },
    { weight: 2, arbitrary: number(5).map((lo) => `*${lo}..${Number(lo) + 4}`) },
    ...(route
      ? [
          {
            weight: 2,
            arbitrary: fc
              .tuple(number(9), oneOf(['', '+', '..40']), claim)
              .map(([n, open, spot]) => `*${n}${open}${GAP}until${GAP}${spot}`),
          },
        ]
      : []),
  );
  const choice = fc.option(times, { nil: undefined, freq: 3 });
  return fc.tuple(unit, choice).map(([u, t]) => (t === undefined ? u : u + MAY + t));
}

/** What stands in `[ ]`: windows, each a chain of presses and waits. */
function windows(options: ItemOptions): fc.Arbitrary<string> {
  const chain = fc
    .array(fc.oneof(press, wait, fc.constant('D0')), { minLength: 1, maxLength: 3 })
    .map((parts) => parts.join(`${MAY}-${MAY}`));
  const marked = fc
    .tuple(
      chain,
      options.route ? fc.option(oneOf(PAUSED), { nil: undefined }) : fc.constant(undefined),
    )
    .map(([window, spot]) => (spot === undefined ? window : `${window}${MAY}@${spot}`));
  return fc
    .array(marked, { maxLength: 3 })
    .map((inner) => `[${MAY}${inner.join(GAP)}${inner.length > 0 ? MAY : ''}]`);
}

function part(options: ItemOptions): fc.Arbitrary<string> {
  const simple = [
    { weight: 8, arbitrary: repeated(press, options.route) },
    { weight: 3, arbitrary: repeated(windows(options), options.route) },
  ];
  if (options.depth <= 0) return fc.oneof(...simple);
  const inner = items({ ...options, depth: options.depth - 1 });
  const group = inner.map((body) => `(${MAY}${body}${MAY})`);
  const hold = fc.tuple(oneOf(CHORDS), group).map(([x, body]) => `${x}${MAY}&${MAY}${body}`);
  return fc.oneof(
    ...simple,
    { weight: 2, arbitrary: repeated(group, options.route) },
    { weight: 1, arbitrary: repeated(hold, options.route) },
  );
}

/** An item of a sequence with what belongs to it: joins, claims and notes. */
function element(options: ItemOptions): fc.Arbitrary<string> {
  const chain = fc
    .array(part(options), { minLength: 1, maxLength: 3 })
    .map((parts) => parts.join(`${MAY}-${MAY}`));
  const alone: { weight: number; arbitrary: fc.Arbitrary<string> }[] = [
    { weight: 2, arbitrary: wait },
    { weight: 1, arbitrary: fc.constant('~') },
    { weight: 1, arbitrary: fc.oneof(wait, fc.constant('~')).map((p) => `pace${GAP}${p}`) },
  ];
  if (options.phrases.length > 0) {
    alone.push({ weight: 2, arbitrary: repeated(oneOf(options.phrases), options.route) });
  }
  const item = fc.oneof({ weight: 8, arbitrary: chain }, ...alone);
  if (!options.route) return item;
  const marks = fc.array(fc.oneof(claim, text), { maxLength: 2 });
  return fc.tuple(item, marks).map(([i, m]) => [i, ...m].join(MAY));
}

/** The items of a sequence, as a skeleton. */
export function items(options: ItemOptions): fc.Arbitrary<string> {
  return fc.array(element(options), { minLength: 1, maxLength: 5 }).map((list) => list.join(GAP));
}

const block = (lines: readonly string[]) =>
  `{${MAY}${lines.join(LINE)}${lines.length > 0 ? MAY : ''}}`;

function choose(options: ItemOptions, inner: fc.Arbitrary<string>): fc.Arbitrary<string> {
  const ways = fc.uniqueArray(fc.tuple(oneOf(['safe', 'fast', 'odd']), inner), {
    minLength: 1,
    maxLength: 3,
    selector: ([name]) => name,
  });
  return fc.tuple(oneOf(['finish', 'middle']), ways).map(([name, list]) => {
    const written = list.map(([way, body]) => `${way}${MAY}{${MAY}${body}${MAY}}`);
    return `choose${GAP}${name}${MAY}${block(written)}`;
  });
}

/** The lines of a route or rescue: items, with a `choose` now and then. */
function steps(options: ItemOptions): fc.Arbitrary<string[]> {
  const line = items(options);
  const choice = choose(options, fc.oneof({ weight: 3, arbitrary: line }, choose(options, line)));
  return fc.array(fc.oneof({ weight: 5, arbitrary: line }, { weight: 1, arbitrary: choice }), {
    maxLength: 5,
  });
}

const clock = oneOf(['30', '50', '60', '100', `30000${MAY}/${MAY}1001`, `60000${MAY}/${MAY}1001`]);

const game = fc
  .record({
    title: text,
    clock,
    settle: fc.integer({ min: 0, max: 12 }),
    pace: fc.option(oneOf(['~', '.', '.2']), { nil: undefined }),
    resume: fc.integer({ min: 0, max: 3 }),
    open: fc.integer({ min: 0, max: 5 }),
    more: fc.integer({ min: 1, max: 9 }),
    tilt: fc.option(text, { nil: undefined }),
    cues: fc.array(text, { maxLength: 4 }),
  })
  .map((g) => {
    const inputs = [
      `U${MAY}=${MAY}y${MAY}-${MAY}1`,
      `D${MAY}=${MAY}y${MAY}+${MAY}1`,
      `L${MAY}=${MAY}x${MAY}-${MAY}1`,
      `R${MAY}=${MAY}x${GAP}1`,
      `W${MAY}=${MAY}y${MAY}-${MAY}0.5${g.tilt === undefined ? '' : MAY + g.tilt}`,
      `J${MAY}=${MAY}jump`,
      `S${MAY}=${MAY}strike`,
    ];
    const pause = [
      `open${GAP}${g.open}`,
      `dwell${GAP}${g.open + g.more}`,
      `resume${GAP}${g.resume}`,
    ];
    const lines = [
      `clock${GAP}${g.clock}`,
      `settle${GAP}${g.settle}`,
      ...(g.pace === undefined ? [] : [`pace${GAP}${g.pace}`]),
      `inputs${MAY}${block(inputs)}`,
      `pause${GAP}P${MAY}${block(pause)}`,
      ...g.cues.map((words, n) => `cue${GAP}${n}${MAY}${words}`),
    ];
    return `game${MAY}${g.title}${MAY}${block(lines)}`;
  });

const hands = fc
  .tuple(number(20), number(30), oneOf(['0', '0.5', '2']))
  .map(([spread, reset, miss]) => {
    const both = `spread${GAP}press${GAP}${spread}ms${GAP}pause${GAP}11ms`;
    return `hands${MAY}${block([both, `reset${GAP}${reset}s`, `miss${GAP}${miss}%`])}`;
  });

const signed = fc
  .tuple(oneOf(['', `-${MAY}`, `+${MAY}`]), fc.integer({ min: 0, max: 999 }))
  .map(([sign, n]) => sign + String(n));
const point = fc.tuple(signed, signed).map(([x, y]) => `(${MAY}${x}${MAY},${MAY}${y}${MAY})`);

const spots = fc
  .array(fc.tuple(point, fc.boolean(), text), { minLength: 8, maxLength: 8 })
  .map((s) =>
    s.map(([at, placed, words], k) => {
      const name = [...SPOTS, ...PAUSED][k] ?? '';
      const paused = PAUSED.includes(name) ? `${GAP}paused` : '';
      return `spot${GAP}@${name}${paused}${placed ? `${GAP}at${MAY}${at}` : ''}${MAY}${words}`;
    }),
  );

function rows(options: ItemOptions): fc.Arbitrary<string> {
  const plain = items({ ...options, route: false });
  const times = fc.option(number(60), { nil: undefined });
  const row = fc.tuple(claim, plain, claim, times).map(([from, body, to, n]) => {
    const counted = n === undefined ? '' : `${GAP}x${n}`;
    return `${from}${MAY}:${MAY}${body}${MAY}->${MAY}${to}${counted}`;
  });
  return fc.array(row, { maxLength: 6 }).map((list) => `seen${MAY}${block(list)}`);
}

function ground(options: ItemOptions): fc.Arbitrary<string> {
  const plain = items({ ...options, route: false });
  const move = fc.tuple(plain, point).map(([body, by]) => `${body}${GAP}by${MAY}${by}`);
  return fc.tuple(point, point, fc.array(move, { maxLength: 4 })).map(([a, b, moves]) => {
    return `ground${GAP}yard${GAP}within${MAY}${a}${MAY}to${MAY}${b}${MAY}${block(moves)}`;
  });
}

function route(options: ItemOptions): fc.Arbitrary<string> {
  const start = fc.tuple(oneOf(SPOTS), fc.option(number(9), { nil: undefined }));
  const list = fc
    .array(start, { minLength: 1, maxLength: 3 })
    .map((all) =>
      all.map(([s, n]) => `@${s}${n === undefined ? '' : `${GAP}x${n}`}`).join(`${MAY},${MAY}`),
    );
  const from = fc.option(fc.oneof(fc.constant('anywhere'), list), { nil: undefined });
  const to = fc.option(oneOf(SPOTS), { nil: undefined });
  const title = fc.option(text, { nil: undefined });
  return fc.tuple(title, from, to, steps(options)).map(([t, f, g, body]) => {
    const head = ['route', GAP, 'barrier', t === undefined ? '' : MAY + t];
    if (f !== undefined) head.push(GAP, 'from', GAP, f);
    if (g !== undefined) head.push(GAP, 'to', MAY, `@${g}`);
    return `${head.join('')}${MAY}${block(body)}`;
  });
}

function rescue(options: ItemOptions): fc.Arbitrary<string> {
  return fc.tuple(claim, steps(options), claim).map(([spot, body, to]) => {
    return `rescue${GAP}${spot}${GAP}in${GAP}barrier${MAY}${block(body)}${MAY}->${MAY}${to}`;
  });
}

/** The skeletons of a note's declarations. */
const declarations: fc.Arbitrary<string[]> = fc
  .record({
    game,
    hands: fc.option(hands, { nil: undefined }),
    spots,
    lets: fc.tuple(
      ...PHRASES.map((_, k) => items({ depth: 2, phrases: PHRASES.slice(0, k), route: false })),
    ),
    seen: rows({ depth: 1, phrases: PHRASES, route: false }),
    ground: fc.option(ground({ depth: 1, phrases: [], route: false }), { nil: undefined }),
    route: route({ depth: 3, phrases: PHRASES, route: true }),
    rescues: fc.array(rescue({ depth: 1, phrases: PHRASES, route: true }), { maxLength: 2 }),
  })
  .map((n) => {
    const lets = n.lets.map((body, k) => `let${GAP}${PHRASES[k] ?? ''}${MAY}=${MAY}${body}`);
    const all = [n.game, n.hands, ...n.spots, ...lets, n.seen, n.ground, n.route, ...n.rescues];
    return all.filter((d) => d !== undefined);
  });

function fill(skeleton: string, gap: () => string, may: () => string, line: () => string): string {
  // eslint-disable-next-line no-control-regex -- the three signs are control characters on purpose
  return skeleton.replace(/[\u0001\u0002\u0003]/g, (sign) =>
    sign === GAP ? gap() : sign === MAY ? may() : line(),
  );
}

const tidied = (skeleton: string) =>
  fill(
    skeleton,
    () => ' ',
    () => '',
    () => '\n',
  );

/** Valid notes with the least white space, one declaration after the other. */
export const tidyNote: fc.Arbitrary<string> = declarations.map(
  (list) => `${list.map(tidied).join('\n\n')}\n`,
);

const blank = fc.constantFrom(' ', ' ', ' ', '  ', '\t', '\n', '\r\n', '\n\n\n', ' \n  ', '\u00a0');
const remark = fc
  .constantFrom(
    '# why',
    '#',
    '## said " of it {',
    '#\t[ ( trailing \t ',
    '# tiptoe: allow x because y',
  )
  .map((words) => ` ${words}\n`);
const white = fc.oneof({ weight: 12, arbitrary: blank }, { weight: 1, arbitrary: remark });

/** Valid notes with any white space and comments wherever the language lets them stand. */
export const messyNote: fc.Arbitrary<string> = fc
  .tuple(
    declarations,
    fc.array(white, { minLength: 1, maxLength: 60 }),
    fc.array(fc.oneof(fc.constant(''), fc.constant(''), white), { minLength: 1, maxLength: 60 }),
    fc.constantFrom('', '\ufeff', '\n\n# about this note\n', '   '),
    fc.constantFrom('', '\n', '  \r\n\n', '\n# the end', ' # the end\n\n# of all'),
  )
  .map(([list, gaps, mays, head, tail]) => {
    let g = 0;
    let m = 0;
    const gap = () => gaps[g++ % gaps.length] ?? ' ';
    const may = () => mays[m++ % mays.length] ?? '';
    const body = list.map((skeleton) => fill(skeleton, gap, may, gap));
    return head + body.join(gap()) + tail;
  });

/** The items of a valid sequence with the least white space. */
export const tidyItems = (options: ItemOptions): fc.Arbitrary<string> => items(options).map(tidied);
