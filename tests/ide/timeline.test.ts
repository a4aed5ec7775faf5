import { describe, expect, test } from 'vitest';
import { itemAtTick, routeTimeline, ticksAt } from '@core/ide/timeline.js';
import { analysed, atCursor } from './at.js';

const route = (body: string, head = 'from @reed'): string =>
  `use "log.tiptoe"\nroute a ${head} {\n  ${body}\n}\n`;

function segments(body: string, from?: number, to?: number, most?: number): string[] {
  const text = route(body);
  const { analysis } = analysed(text);
  const found = routeTimeline(analysis, 'note.tiptoe', text.indexOf('route'), {
    ...(from === undefined ? {} : { from }),
    ...(to === undefined ? {} : { to }),
    ...(most === undefined ? {} : { most }),
  });
  if ('none' in found) return [found.none];
  return found.segments.map(({ tick, ticks, frame, held, item }) => {
    const written = item && analysis.file(item.path)?.tree.text.slice(item.start, item.end);
    return `${tick}+${ticks} ${frame ?? '-'} ${held.join('')} ${written ?? '~'}`.replace('  ', ' ');
  });
}

describe('the timeline of a route', () => {
  test('its segments, with the items that they are of', () => {
    expect(segments('U2 DR3')).toEqual(['0+2 0 U U2', '2+7 2 ~', '9+3 9 DR DR3']);
    expect(segments('[U1]')).toEqual(['0+1 - P [U1]', '1+10 - [U1]', '11+1 - UP U1', '12+1 - U U1', '13+1 0 U U1', '14+1 - UP U1', '15+10 - U1', '25+1 - P [U1]', '26+1 - [U1]']); // prettier-ignore
  });
  test('a window of it, cut, and no more than asked for', () => {
    expect(segments('U2 DR3', 1, 10)).toEqual(['1+1 1 U U2', '2+7 2 ~', '9+1 9 DR DR3']);
    expect(segments('U2 DR3', 0, 12, 2)).toEqual(['0+2 0 U U2', '2+7 2 ~']);
    expect(segments('U*1000000000', 8e9 - 8, 8e9)).toEqual(['7999999992+1 7999999992 U U*1000000000']); // prettier-ignore
    expect(segments('U', 5, 9)).toEqual([]);
  });
  test('where there is none', () => {
    expect(segments('((U*9000000)*9000000)*9000000')).toEqual(['too-long']);
    const { analysis } = analysed('let a = U');
    expect(routeTimeline(analysis, 'note.tiptoe', 2)).toEqual({ none: 'no-route' });
    expect(routeTimeline(analysis, 'none.tiptoe', 2)).toEqual({ none: 'no-route' });
  });
  test('lengths, clock, and the way that is picked', () => {
    const text = route('choose end { slow { U9 } fast { U4 } }');
    const { analysis } = analysed(text);
    const at = text.indexOf('slow');
    expect(routeTimeline(analysis, 'note.tiptoe', at)).toMatchObject({ route: 'a', clock: '50', ticks: 9, frames: 9, until: 9 }); // prettier-ignore
    const choices = new Map([['end', 'fast']]);
    expect(routeTimeline(analysis, 'note.tiptoe', at, { choices })).toMatchObject({ ticks: 4 });
  });
});

describe('the item at a tick', () => {
  const at = (body: string, tick: number): string | undefined => {
    const text = route(body);
    const { analysis } = analysed(text);
    const found = itemAtTick(analysis, 'note.tiptoe', text.indexOf('route'), tick);
    if (found === undefined) return undefined;
    const words = [found.item, found.inRoute].map((span) => span && analysis.file(span.path)?.tree.text.slice(span.start, span.end)); // prettier-ignore
    return `${words[0] ?? '~'} in ${words[1] ?? '~'}, frame ${found.frame ?? '-'}`;
  };
  test('with the item of the body around it', () => {
    expect(at('U shuffle*2', 0)).toBe('U in U, frame 0');
    expect(at('U shuffle*2', 3)).toBe('~ in ~, frame 3');
    expect(at('U shuffle*2', 16)).toBe('U in shuffle*2, frame 16');
    expect(at('U [U1]', 21)).toBe('U1 in [U1], frame 8');
  });
  test('does not apply outside of it', () => {
    expect(at('U', 1)).toBeUndefined();
    expect(at('U', -1)).toBeUndefined();
    expect(at('((U*9000000)*9000000)*9000000', 1)).toBeUndefined();
  });
});

describe('the ticks at an offset', () => {
  const check = (body: string, expected: string | undefined, most?: number): void => {
    const { analysis, path, offset } = atCursor(route(body));
    const found = ticksAt(analysis, path, offset, most === undefined ? {} : { most });
    expect(found && found.ranges.map(({ from, to }) => `${from}-${to}`).join(' ') + (found.more ? ' …' : '')).toBe(expected); // prettier-ignore
  };
  test('of an item of the body, and of one in a group, each time', () => {
    check('U R|3', '8-11');
    check('U s|huffle', '8-25');
    check('(U R|3)*3', '8-11 26-29 44-47');
    check('(U R|3)*3000000', '8-11 26-29 …', 2);
    check('[U1 U|2]', '25-40');
  });
  test('that grow together without end are counted no further', () => {
    check('pace .0 R ((U|)*1000000000)*2', '1-2001 …');
  });
  test('does not apply where no item is', () => {
    check('U   |   R', undefined);
    const { analysis } = analysed('let a = U');
    expect(ticksAt(analysis, 'note.tiptoe', 8)).toBeUndefined();
  });
});
