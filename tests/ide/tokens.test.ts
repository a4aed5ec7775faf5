import { describe, expect, test } from 'vitest';
import fc from 'fast-check';
import { analysisOf } from '@core/ide/analysis.js';
import { semanticTokens, TOKEN_KINDS, tokensOf } from '@core/ide/tokens.js';
import { loadProgram, programOf } from '@core/model/program.js';
import { parse, reparse } from '@core/syntax/parse.js';
import { GAME, LOG } from './at.js';

/** The tokens of a text as `kind:text`, a declared name with `!`. */
function tokensIn(text: string): string[] {
  const found: string[] = [];
  for (const { start, tokens } of semanticTokens(analysisOf(programOf(text)), 'note.tiptoe')) {
    for (let i = 0; i < tokens.length; i += 3) {
      const [at = 0, length = 0, kind = 0] = tokens.slice(i, i + 3);
      const written = text.slice(start + at, start + at + length);
      found.push(`${TOKEN_KINDS[kind >> 1] ?? '?'}${(kind & 1) === 1 ? '!' : ''}:${written}`);
    }
  }
  return found;
}

function check(text: string, expected: string): void {
  expect(tokensIn(text).join(' ')).toBe(expected);
}

describe('semantic tokens', () => {
  test('of a sequence', () => {
    check('let a = DR3-U .12 ~ b*5..9', 'keyword:let phrase!:a operator:= input:D input:R number:3 operator:- input:U operator:. number:12 operator:~ phrase:b operator:* number:5..9'); // prettier-ignore
    check('let a = D&(J) [U1]', 'keyword:let phrase!:a operator:= input:D operator:& bracket:( input:J bracket:) bracket:[ input:U number:1 bracket:]'); // prettier-ignore
  });
  test('of a route, its spots and its ways', () => {
    check('route a "T" from @b { U*2+ until @c choose e { f { U } } @d "n" }', 'keyword:route route!:a text:"T" keyword:from spot:@b bracket:{ input:U operator:* number:2+ keyword:until spot:@c keyword:choose choice!:e bracket:{ way!:f bracket:{ input:U bracket:} bracket:} spot:@d text:"n" bracket:}'); // prettier-ignore
  });
  test('of the log, spots, ground and hands', () => {
    check('seen { @a : U -> @b x22 }', 'keyword:seen bracket:{ spot:@a operator:: input:U operator:-> spot:@b number:x22 bracket:}'); // prettier-ignore
    check('spot @a at (1, 2)', 'keyword:spot spot!:@a keyword:at bracket:( number:1 operator:, number:2 bracket:)'); // prettier-ignore
    check('hands tired { spread press 9ms }', 'keyword:hands hands!:tired bracket:{ setting:spread setting:press number:9ms bracket:}'); // prettier-ignore
  });
  test('of a game', () => {
    check('game "F" { clock 50 inputs { D = y +1 J = jump } pause P { open 4 } }', 'keyword:game text:"F" bracket:{ setting:clock number:50 setting:inputs bracket:{ input!:D operator:= axis:y operator:+ number:1 input!:J operator:= button:jump bracket:} setting:pause input!:P bracket:{ setting:open number:4 bracket:} bracket:}'); // prettier-ignore
  });
  test('of comments, docs and silences', () => {
    check('## Docs.\n# words\nuse "a" # tiptoe: allow pinch because so', 'docs:## Docs. comment:# words keyword:use text:"a" silence:# tiptoe: allow pinch because so'); // prettier-ignore
  });
  test('of broken text, as far as it can be read', () => {
    check('nonsense D3 )', 'input:D number:3 bracket:)');
    check('route a { U', 'keyword:route route!:a bracket:{ input:U');
    check('', '');
  });
  test('of a file that is not there: none', () => {
    expect(semanticTokens(analysisOf(programOf('')), 'none.tiptoe')).toEqual([]);
  });

  test('are in order and overlap nowhere, whatever the text', () => {
    const signs = fc.constantFrom('route', ' a', ' {', '}', 'D3', '@x', '-', '->', '~', '.2', '"t', '"', '#', '\n', '(', ')', '[', ']', '*2', ' until', ' choose', '&', '💡', 'seen', ':', 'x2', 'game', ' =', 'hands'); // prettier-ignore
    const texts = fc.array(signs, { maxLength: 40 }).map((parts) => parts.join(''));
    fc.assert(
      fc.property(texts, (text) => {
        let end = 0;
        for (const { start, unit } of parse(text).units) {
          const tokens = tokensOf(unit);
          for (let i = 0; i < tokens.length; i += 3) {
            const at = start + (tokens[i] ?? 0);
            expect(at).toBeGreaterThanOrEqual(end);
            expect(tokens[i + 1]).toBeGreaterThan(0);
            end = at + (tokens[i + 1] ?? 0);
          }
        }
        expect(end).toBeLessThanOrEqual(text.length);
      }),
    );
  });

  test('of a unit that did not change are the same array', () => {
    const text = `${GAME}${LOG}`;
    const tree = parse(text);
    const before = tree.units.map(({ unit }) => tokensOf(unit));
    const at = text.indexOf('spot @rush');
    const after = reparse(tree, { span: { start: at, end: at }, text: 'spot @new\n' });
    const arrays = new Set(before);
    const fresh = after.units.filter(({ unit }) => !arrays.has(tokensOf(unit)));
    expect(after.units.length).toBe(before.length + 1);
    // The new one and its neighbours, whose text could have become a part of it.
    expect(fresh.length).toBeLessThanOrEqual(3);
  });

  test('depend on nothing but the unit', () => {
    const read = (path: string) => ({ text: path === 'game.tiptoe' ? GAME : 'use "game.tiptoe"\nlet a = U' }); // prettier-ignore
    const whole = analysisOf(loadProgram(['note.tiptoe'], read));
    const alone = analysisOf(programOf('use "game.tiptoe"\nlet a = U'));
    expect(semanticTokens(whole, 'note.tiptoe')).toEqual(semanticTokens(alone, 'note.tiptoe'));
  });
});
