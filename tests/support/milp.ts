import { createRequire as requireFrom } from 'node:module';
import { dirname, join } from 'node:path';
import imported, { type Highs, type InitOptions } from 'highs';

// Its types are those of its other build, whose default export is one level further down.
const highsLoader = imported as unknown as (options: InitOptions) => Promise<Highs>;

export type { Highs };

let loaded: Promise<Highs> | undefined;

export function loadHighs(): Promise<Highs> {
  // Beside its own code, also where that was bundled elsewhere.
  const folder = dirname(requireFrom(import.meta.url).resolve('highs'));
  loaded ??= highsLoader({ locateFile: (file: string) => join(folder, file) });
  return loaded;
}

/** The least cost of whole counts of moves that add up to an offset, in the LP file format. */
export function lpText(
  moves: readonly (readonly number[])[],
  costs: readonly number[],
  offset: readonly number[],
): string {
  const term = (factor: number, i: number) => `${factor < 0 ? '-' : '+'} ${Math.abs(factor)} n${i}`;
  const sum = (factors: readonly number[]) => factors.map(term).join(' ');
  const axes = offset.map(
    (value, axis) => ` axis${axis}: ${sum(moves.map((move) => move[axis] ?? 0))} = ${value}`,
  );
  const names = moves.map((_, i) => `n${i}`).join(' ');
  return `Minimize\n cost: ${sum(costs)}\nSubject To\n${axes.join('\n')}\nGeneral\n ${names}\nEnd\n`;
}

/** The least cost by the solver; undefined where it proves that there is none. */
export function leastByMilp(
  highs: Highs,
  moves: readonly (readonly number[])[],
  costs: readonly number[],
  offset: readonly number[],
): number | undefined {
  const found = highs.solve(lpText(moves, costs, offset), { mip_rel_gap: 0, mip_abs_gap: 0 });
  if (found.Status === 'Infeasible') return undefined;
  if (found.Status !== 'Optimal') throw new Error(`the solver says ${found.Status}`);
  return Math.round(found.ObjectiveValue);
}
