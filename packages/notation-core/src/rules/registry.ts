import type { Finding, Params, Severity } from '../text/finding.js';
import { nearest } from '../text/suggest.js';
import type { Message, ProblemCode, Problems, Rule } from './rule.js';
import { TABLE } from './table.generated.js';

export type RuleName = keyof typeof TABLE;

/** Each code of the syntax and the model has its rule, and each rule stands under its own name. */
const complete: { readonly [K in ProblemCode]: Rule<K, Problems[K]> } & {
  readonly [N in RuleName]: Rule<N>;
} = TABLE;

/** Every rule, sorted by name. */
export const RULES: readonly Rule<RuleName>[] = Object.values(complete);

export function isRuleName(name: string): name is RuleName {
  return Object.hasOwn(TABLE, name);
}

export function ruleNamed(name: RuleName): Rule<RuleName> {
  return complete[name];
}

/** The rule name nearest to a written one. */
export function nearestRule(written: string): string {
  return nearest(written, Object.keys(TABLE)) ?? '';
}

/** A finding in words. */
export function describe(finding: Pick<Finding, 'rule' | 'params'>): Message {
  return messageOf(finding.rule, finding.params);
}

export function messageOf(rule: string, params: Params): Message {
  if (!isRuleName(rule)) return { title: rule, reason: '', wayOut: '' };
  // A finding carries the parameters of its own rule: both were made by one call.
  return (complete[rule] as Rule).message(params);
}

export function severityOf(rule: string): Severity {
  return isRuleName(rule) ? complete[rule].severity : 'error';
}
