import type { Rule } from './rule.js';

/** The page of a rule as Markdown; SARIF, `explain` and the reference show the same. */
export function rulePage({
  name,
  title,
  severity,
  page,
}: Pick<Rule, 'name' | 'title' | 'severity' | 'page'>): string {
  const parts = [
    `# ${name}`,
    `${title} (${severity})`,
    `## What it reports\n\n${page.what}`,
    `## Why\n\n${page.why}`,
    `## Example\n\n${fence(page.bad)}`,
    `## Instead\n\n${fence(page.instead)}`,
  ];
  if (page.fix !== undefined) parts.push(`## Fix\n\n${page.fix}`);
  return parts.join('\n\n') + '\n';
}

function fence(note: string): string {
  return `\`\`\`tiptoe\n${note.trimEnd()}\n\`\`\``;
}
