import { EXAMPLE_GAME, EXAMPLE_GAME_PATH } from '../../rules/example.js';
import { RULES, isRuleName, nearestRule, ruleNamed } from '../../rules/registry.js';
import type { Rule } from '../../rules/rule.js';
import { type Call, type Command, OUTPUT_OPTIONS } from '../command.js';
import { EXIT, type ExitCode, Trouble } from '../exit.js';
import { print } from '../output.js';
import { rulePage } from '../rule-page.js';
import { type Paint, painter, plain, screenWidth } from '../screen.js';
import { wrap } from '../wrap.js';

const FORMATS = ['text', 'markdown', 'json'];

export const command: Command = {
  name: 'explain',
  summary: 'Say what a rule reports and why, or list all rules',
  details: [
    'Every finding ends with the name of its rule. A rule can be silenced on a line by a comment, "# tiptoe: allow RULE because REASON", or set in tiptoe.json.',
  ],
  arguments: [
    {
      name: '[rule]',
      summary: 'the name of a rule; without it, all of them are listed',
      choices: RULES.map((rule) => rule.name),
    },
  ],
  options: [
    { flags: '--format <form>', summary: 'how to say it', choices: FORMATS, preset: 'text' },
    ...OUTPUT_OPTIONS,
  ],
  examples: [
    { line: 'tiptoe explain', does: 'lists the rules' },
    { line: 'tiptoe explain merged-presses', does: 'shows the page of one rule' },
    { line: 'tiptoe explain --format markdown -o rules.md', does: 'writes a table of all rules' },
  ],
  run,
};

async function run({ args: [name], options }: Call): Promise<ExitCode> {
  const format = options.text('format') ?? 'text';
  const file = options.text('output');
  const paint = file === undefined ? painter(1) : plain;
  const text = name === undefined ? list(format, paint) : page(ruleOf(name), format, paint);
  await print(text, options.output);
  return EXIT.fine;
}

function ruleOf(name: string): Rule {
  if (isRuleName(name)) return ruleNamed(name);
  const near = nearestRule(name);
  const wayOut = near === '' ? 'tiptoe explain lists them all.' : `Did you mean ${near}?`;
  throw new Trouble(name, 'there is no such rule', wayOut);
}

type Facts = Pick<Rule, 'name' | 'title' | 'severity' | 'page'>;

function list(format: string, paint: Paint): string {
  if (format === 'json') return json(RULES.map(facts));
  if (format === 'markdown') {
    const rows = RULES.map(
      (rule) => `| \`${rule.name}\` | ${rule.severity} | ${cell(rule.title)} |`,
    );
    return ['| rule | severity | reports |', '| --- | --- | --- |', ...rows].join('\n') + '\n';
  }
  const most = Math.max(...RULES.map((rule) => rule.name.length));
  const indent = ' '.repeat(most + 12);
  const lines = RULES.map((rule) => {
    const title = wrap(rule.title, screenWidth(), indent).slice(indent.length);
    const name = paint('bold', rule.name) + ' '.repeat(most - rule.name.length + 2);
    return `${name}${paint(COLOURS[rule.severity], rule.severity.padEnd(8))}  ${title}`;
  });
  return lines.join('\n') + '\n\ntiptoe explain RULE shows the page of a rule.\n';
}

const COLOURS = { error: 'red', warning: 'yellow', note: 'blue' } as const;

/** A bar inside a cell would end it (GFM 0.29, 4.10). */
function cell(text: string): string {
  return text.replaceAll('|', '\\|').replace(/\s*\n\s*/g, ' ');
}

function page(rule: Facts, format: string, paint: Paint): string {
  if (format === 'json') return json(facts(rule));
  if (format === 'markdown') return rulePage(rule);
  const width = Math.min(screenWidth(), 100);
  const { name, title, severity, page: said } = rule;
  const part = (label: string, body: string) => `${paint('bold', label)}\n${body}`;
  const text = (body: string) =>
    body
      .split(/\n\s*\n/)
      .map((paragraph) => wrap(paragraph, width, '  '))
      .join('\n\n');
  const parts = [
    `${paint('bold', name)} (${paint(COLOURS[severity], severity)}): ${title}`,
    part('What it reports', text(said.what)),
    part('Why', text(said.why)),
    part('Example', indented(said.bad)),
    part('Instead', indented(said.instead)),
  ];
  if (said.fix !== undefined) parts.push(part('Fix', text(said.fix)));
  return parts.join('\n\n') + '\n';
}

function indented(note: string): string {
  return note.trimEnd().replace(/^(?=.)/gm, '  ');
}

function facts({ name, title, severity, page: said }: Facts) {
  return {
    rule: name,
    severity,
    title,
    ...said,
    ...(needsGame(said) ? { files: { [EXAMPLE_GAME_PATH]: EXAMPLE_GAME } } : {}),
  };
}

/** Whether the examples use the game that they share. */
function needsGame({ bad, instead }: Facts['page']): boolean {
  return bad.includes(EXAMPLE_GAME_PATH) || instead.includes(EXAMPLE_GAME_PATH);
}

function json(value: unknown): string {
  return JSON.stringify(value, null, 2) + '\n';
}
