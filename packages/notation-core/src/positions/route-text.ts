import type { Plan } from './plan.js';

/** The width at which a body goes on in the next line. */
const WIDTH = 90;

export interface RouteTextOptions {
  /** The names that routes have already; a new one is found beside them. */
  readonly taken: ReadonlySet<string>;
  /** Whether every logged start is meant, so that `from anywhere` says it. */
  readonly anywhere: boolean;
}

/** The first `found_1`, `found_2`, … that is free. */
export function freeName(taken: ReadonlySet<string>): string {
  for (let n = 1; ; n++) if (!taken.has(`found_${n}`)) return `found_${n}`;
}

/** A plan as a route with its rescues, in the notation. */
export function routeText(plan: Plan, name: string, { anywhere }: RouteTextOptions): string {
  const from = anywhere ? 'anywhere' : plan.starts.map((spot) => `@${spot}`).join(', ');
  const isNamed = !plan.goal.startsWith('(');
  const to = isNamed && !plan.endsPaused ? ` to @${plan.goal}` : '';
  const lines = [`route ${name} from ${from}${to} {`, ...bodyLines(bodyOf(plan)), '}'];
  for (const rescue of plan.rescues) {
    lines.push(`rescue @${rescue.spot} in ${name} { ${rescue.sequence} } -> @${rescue.to}`);
  }
  return `${lines.join('\n')}\n`;
}

/** The items, with the claim of a goal inside a pause before its bracket closes. */
function bodyOf({ items, endsPaused, goal }: Plan): readonly string[] {
  if (!endsPaused) return items;
  const last = (items[items.length - 1] ?? '').slice(0, -1);
  return [...items.slice(0, -1), `${last}${last.endsWith('[') ? '' : ' '}@${goal}]`];
}

function bodyLines(items: readonly string[]): string[] {
  const lines: string[] = [];
  let line = '';
  for (const item of items) {
    if (line !== '' && line.length + 1 + item.length > WIDTH) {
      lines.push(line);
      line = '';
    }
    line = line === '' ? `  ${item}` : `${line} ${item}`;
  }
  if (line !== '') lines.push(line);
  return lines;
}
