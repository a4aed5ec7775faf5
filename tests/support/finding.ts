import { programOf } from '@core/model/program.js';
import { type Scope, scopeOf } from '@core/model/scope.js';
import { knownOf } from '@core/positions/context.js';
import { type FindQuery, type Findings, Finder } from '@core/positions/find.js';

export function scopeOfNote(text: string): Scope {
  const program = programOf(text);
  const file = program.files.get(program.entries[0] ?? '');
  if (file === undefined) throw new Error('the note is not there');
  return scopeOf(program, file);
}

export type Asked = Partial<Omit<FindQuery, 'from' | 'to'>> & {
  readonly from: readonly string[];
  readonly to: string | { readonly low: readonly number[]; readonly high: readonly number[] };
};

/** Runs a search to its end. */
export function findIn(scope: Scope, asked: Asked): Findings {
  const { log } = knownOf(scope);
  const { to } = asked;
  const finder = new Finder(scope, {
    by: 'ticks',
    best: 5,
    likely: false,
    ...asked,
    from: asked.from.map((name) => log.spot(name)),
    to:
      typeof to === 'string'
        ? { kind: 'spot', spot: log.spot(to) }
        : { kind: 'window', low: to.low, high: to.high },
  });
  for (const _ of finder.run());
  return finder.findings;
}
