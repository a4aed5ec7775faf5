import { LIMIT_RANGES, DEFAULT_LIMITS, type LimitName } from './limits.js';
import { RULES } from './registry.js';
import { isFixed, SEVERITIES } from './settings.js';

/** The JSON Schema of `tiptoe.json` (draft 2020-12), made from the rules and the limits. */
export function settingsSchema(): object {
  const severity = { enum: SEVERITIES };
  const rules = RULES.filter(({ name }) => !isFixed(name)).map(({ name, title, severity: own }) => [
    name,
    { description: title, default: own, ...severity },
  ]);
  const limits = (Object.keys(LIMIT_RANGES) as LimitName[]).map((name) => {
    const { least, most, what } = LIMIT_RANGES[name];
    const bounds = { minimum: least, maximum: most, default: DEFAULT_LIMITS[name] };
    return [name, { description: what, type: 'number', ...bounds }];
  });
  return {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    title: 'Settings of Tiptoe',
    description: 'What the checker reports, and what hands are taken to be able to do.',
    type: 'object',
    additionalProperties: false,
    properties: {
      $schema: { type: 'string' },
      rules: {
        description: 'The severity of each rule, or off.',
        type: 'object',
        additionalProperties: false,
        properties: Object.fromEntries(rules) as Record<string, unknown>,
      },
      limits: {
        description: 'What hands are taken to be able to do.',
        type: 'object',
        additionalProperties: false,
        properties: Object.fromEntries(limits) as Record<string, unknown>,
      },
    },
  };
}
