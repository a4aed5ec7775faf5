/**
 * Ceilings that keep any input from exhausting the machine. Each one has a message where it
 * is met; none is a matter of taste, so they are not settings (the file size is, in `cli`).
 */
export const LIMITS = {
  /** Brackets inside brackets; walks of a tree recurse once a level. */
  nesting: 200,
  /** Ticks of a timeline, and any written count: beyond it numbers stop being exact. */
  count: Number.MAX_SAFE_INTEGER,
  /** Findings of one declaration, so that a megabyte of noise does not print a megabyte of findings. */
  problemsPerDeclaration: 100,
} as const;
