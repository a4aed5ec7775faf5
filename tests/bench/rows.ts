/** What a measurement has to reach. Ratios only: absolute speeds say more of the machine than of the code. */
export type Target = { readonly atLeast: number } | { readonly atMost: number };

/** One line of the table that a benchmark prints. */
export interface Row {
  /** What is compared with what, in a few words. */
  readonly what: string;
  readonly measured: number;
  readonly target: Target;
  /** The figures behind the ratio, with their units. */
  readonly figures: string;
}

/** What each `*.bench.ts` exports as `bench`. */
export interface Bench {
  readonly name: string;
  run(): Promise<Row[]>;
}

export function met(row: Row): boolean {
  const { target, measured } = row;
  return 'atLeast' in target ? measured >= target.atLeast : measured <= target.atMost;
}
