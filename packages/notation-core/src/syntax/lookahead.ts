import {
  Alternation,
  LLkLookaheadStrategy,
  NonTerminal,
  Option,
  Repetition,
  RepetitionMandatory,
  Terminal,
  type ILookaheadStrategy,
  type IProduction,
  type Rule,
} from 'chevrotain';
import type { Scanner } from './scanner.js';

type AlternationOptions = Parameters<ILookaheadStrategy['buildLookaheadForAlternation']>[0];
type OptionalOptions = Parameters<ILookaheadStrategy['buildLookaheadForOptional']>[0];
type Validate = ILookaheadStrategy['validate'];
type Body = readonly IProduction[];

/**
 * Decides by the next token alone, which is all that the grammar needs. Chevrotain's own
 * strategy searches paths of any length and takes most of the time that the parser takes to
 * be built; here each set of first tokens is collected once. The validation, in which
 * ambiguities would show, stays Chevrotain's.
 */
export class OneTokenLookahead implements ILookaheadStrategy {
  private readonly firsts = new Map<Rule, ReadonlySet<number>>();

  constructor(private readonly at: Scanner) {}

  validate(options: Parameters<Validate>[0]): ReturnType<Validate> {
    return new LLkLookaheadStrategy({ maxLookahead: 1 }).validate(options);
  }

  buildLookaheadForAlternation({
    rule,
    prodOccurrence,
  }: AlternationOptions): () => number | undefined {
    const found = find(rule.definition, 'Alternation', prodOccurrence);
    const table: (number | undefined)[] = [];
    found?.definition.forEach((alternative, k) => {
      // Where two alternatives begin alike, the first one has it.
      for (const index of this.first([alternative])) table[index] ??= k;
    });
    const { at } = this;
    return () => table[at.tokenTypeIdx];
  }

  buildLookaheadForOptional({ rule, prodOccurrence, prodType }: OptionalOptions): () => boolean {
    const found = find(rule.definition, prodType, prodOccurrence);
    const table: boolean[] = [];
    for (const index of this.first(found?.definition ?? [])) table[index] = true;
    const { at } = this;
    return () => table[at.tokenTypeIdx] === true;
  }

  /** The types of the tokens that a sequence can begin with. */
  private first(body: Body): Set<number> {
    const types = new Set<number>();
    for (const part of body) {
      for (const index of this.firstOf(part)) types.add(index);
      if (!canBeEmpty(part)) break;
    }
    return types;
  }

  private firstOf(part: IProduction): ReadonlySet<number> {
    if (part instanceof Terminal) {
      const { tokenTypeIdx = 0, categoryMatches = [] } = part.terminalType;
      return new Set([tokenTypeIdx, ...categoryMatches]);
    }
    if (part instanceof NonTerminal) {
      const rule = part.referencedRule;
      let known = this.firsts.get(rule);
      if (known === undefined) this.firsts.set(rule, (known = this.first(rule.definition)));
      return known;
    }
    if (part instanceof Alternation) {
      const types = new Set<number>();
      for (const one of part.definition) for (const index of this.first([one])) types.add(index);
      return types;
    }
    return this.first(partsOf(part));
  }
}

function partsOf(part: IProduction): Body {
  return (part as IProduction & { definition?: Body }).definition ?? [];
}

function canBeEmpty(part: IProduction): boolean {
  if (part instanceof Option || part instanceof Repetition) return true;
  if (part instanceof Terminal) return false;
  if (part instanceof NonTerminal) return part.referencedRule.definition.every(canBeEmpty);
  if (part instanceof Alternation) return part.definition.some(canBeEmpty);
  return partsOf(part).every(canBeEmpty);
}

const KINDS = { Alternation, Option, Repetition, RepetitionMandatory } as const;

/** The production of that kind and number in a rule. */
function find(body: Body, kind: string, number: number): { definition: Body } | undefined {
  const wanted = KINDS[kind as keyof typeof KINDS];
  for (const part of body) {
    if (part instanceof wanted && part.idx === number) return part;
    if (part instanceof Terminal || part instanceof NonTerminal) continue;
    const inside = find(partsOf(part), kind, number);
    if (inside !== undefined) return inside;
  }
  return undefined;
}
