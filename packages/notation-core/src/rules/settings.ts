import type { Severity } from '../text/finding.js';
import type { Span } from '../text/span.js';
import { nearest } from '../text/suggest.js';
import { type JsonNode, readJson } from './json.js';
import { DEFAULT_LIMITS, LIMIT_RANGES, type LimitName, type Limits } from './limits.js';
import { isRuleName, nearestRule, ruleNamed, RULES } from './registry.js';

/** What `tiptoe.json` sets. */
export interface Settings {
  /** The severities of rules that differ from their own. */
  readonly rules: ReadonlyMap<string, Severity | 'off'>;
  readonly limits: Limits;
}

export const DEFAULT_SETTINGS: Settings = { rules: new Map(), limits: DEFAULT_LIMITS };

export const SEVERITIES: readonly (Severity | 'off')[] = ['error', 'warning', 'note', 'off'];

/** What is wrong with settings, where, and the way out. */
export interface SettingsError {
  readonly span: Span;
  readonly title: string;
  readonly wayOut: string;
}

export interface ReadSettings {
  /** What could be read; where something is wrong, its usual value. */
  readonly settings: Settings;
  readonly errors: readonly SettingsError[];
}

/** Whether a rule always is an error: what it reports keeps a note from being read at all. */
export function isFixed(name: string): boolean {
  if (!isRuleName(name)) return false;
  return ruleNamed(name).fixed === true;
}

/** The settings that the text of a `tiptoe.json` holds. Never throws. */
export function readSettings(text: string): ReadSettings {
  const errors: SettingsError[] = [];
  const wrong = (span: Span, title: string, wayOut: string): void => {
    errors.push({ span, title, wayOut });
  };
  const read = readJson(text);
  if (!read.ok) {
    wrong(read.span, `This is no JSON: ${read.reason}`, 'Write JSON, without comments.');
    return { settings: DEFAULT_SETTINGS, errors };
  }
  const rules = new Map<string, Severity | 'off'>();
  const limits: Record<LimitName, number> = { ...DEFAULT_LIMITS };
  for (const { key, at, value } of members(read.node, 'the settings', wrong)) {
    if (key === '$schema') {
      if (typeof value.value !== 'string') wrong(value.span, '$schema is no text', 'Write a URL.');
    } else if (key === 'rules') readRules(value, rules, wrong);
    else if (key === 'limits') readLimits(value, limits, wrong);
    else {
      const near = nearest(key, ['rules', 'limits', '$schema']);
      wrong(at, `${key} is no setting`, meant(near, 'There are rules and limits.'));
    }
  }
  return { settings: { rules, limits }, errors };
}

type Wrong = (span: Span, title: string, wayOut: string) => void;

function readRules(node: JsonNode, rules: Map<string, Severity | 'off'>, wrong: Wrong): void {
  for (const { key, at, value } of members(node, 'rules', wrong)) {
    const severity = SEVERITIES.find((each) => each === value.value);
    if (!isRuleName(key)) {
      const near = nearestRule(key);
      wrong(
        at,
        `${key} is no rule`,
        meant(near, `There are ${RULES.length} rules: tiptoe explain.`),
      );
    } else if (isFixed(key)) {
      wrong(
        at,
        `${key} is always an error`,
        'Take it out: text that cannot be read has no meaning.',
      );
    } else if (severity === undefined) {
      wrong(
        value.span,
        `${key} has no such severity`,
        'Write "error", "warning", "note" or "off".',
      );
    } else rules.set(key, severity);
  }
}

function readLimits(node: JsonNode, limits: Record<LimitName, number>, wrong: Wrong): void {
  const names = Object.keys(LIMIT_RANGES) as LimitName[];
  for (const { key, at, value } of members(node, 'limits', wrong)) {
    const name = names.find((each) => each === key);
    if (name === undefined) {
      wrong(at, `${key} is no limit`, meant(nearest(key, names), `There are ${names.join(', ')}.`));
      continue;
    }
    const { least, most } = LIMIT_RANGES[name];
    const number = value.value;
    if (typeof number !== 'number' || number < least || number > most) {
      wrong(value.span, `${key} cannot be this`, `Write a number from ${least} to ${most}.`);
    } else limits[name] = number;
  }
}

function meant(near: string | undefined, otherwise: string): string {
  return near === undefined || near === '' ? otherwise : `Did you mean ${near}?`;
}

function* members(
  node: JsonNode,
  what: string,
  wrong: Wrong,
): Generator<{ key: string; at: Span; value: JsonNode }> {
  if (node.members === undefined) {
    wrong(node.span, `${what} is no object`, 'Write { … } with names and values.');
    return;
  }
  const seen = new Set<string>();
  for (const member of node.members) {
    if (seen.has(member.key)) wrong(member.at, `${member.key} is there twice`, 'Keep one of them.');
    seen.add(member.key);
    yield member;
  }
}
