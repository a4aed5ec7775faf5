/** The words need nothing but the place. */
export type NoParameters = Record<string, never>;

/**
 * What the syntax can find wrong, and the parameters that its words need. The rule of the same
 * name (in `rules`) holds the words; a code without a rule, or a rule without a code, does not
 * compile.
 */
export interface SyntaxProblems {
  /** A declaration word that is nearly one: `rout`. */
  'misspelled-word': { written: string; meant: string };
  /** A text whose second quote is missing on its line. */
  'unclosed-text': NoParameters;
  /** `[` without `]`. */
  'unclosed-pause': NoParameters;
  /** `(` without `)`. */
  'unclosed-group': NoParameters;
  /** `{` without `}`; `what` is the declaration's word. */
  'unclosed-block': { what: string };
  /** A `)`, `]` or `}` that closes nothing. */
  'stray-closer': { written: string };
  /** A number by itself; `inputs` is the press in front of it, '' where there is none. */
  'stray-count': { written: string; inputs: string };
  /** A word or sign that cannot stand here; `instead` says what can. */
  'stray-text': { written: string; instead: string };
  /** A run of letters and digits that is neither a press nor a name. */
  'odd-word': { written: string; instead: string };
  /** Something that has to be here is not. `what` in words, `after` what stands in front. */
  'something-missing': { what: string; after: string };
  /** `*8` with nothing to repeat, or behind another repeat. */
  'repeat-alone': { written: string; twice: boolean };
  /** `until` without a repeat in front of it, or `*6+` without `until`. */
  'until-alone': { written: string };
  /** A `-` with nothing on one side. */
  'join-alone': { side: string };
  /** `D&` without a group, or with a count. */
  'hold-form': { written: string; inputs: string };
  /** An item that stands in `choose` outside its ways. */
  'outside-ways': { written: string };
  /** More brackets inside brackets than the limit. */
  'nested-too-deep': { limit: number };
  /** A number beyond the exact range. */
  'count-too-large': { written: string; limit: number };
  /** More problems in one declaration than are listed. */
  'more-problems': { listed: number };
}

export type SyntaxCode = keyof SyntaxProblems;
