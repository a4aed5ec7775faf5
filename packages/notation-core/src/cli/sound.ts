import type { Program } from '../model/program.js';
import type { Declared, Scope } from '../model/scope.js';
import type { RouteDeclaration } from '../syntax/tree.js';
import type { Finding } from '../text/finding.js';
import type { Options } from './options.js';
import { report } from './report.js';
import { routesOf } from './routes.js';
import { screenWidth } from './screen.js';
import { UnitFindings } from './tables/findings.js';
import { neededBy } from './tables/needs.js';

export interface SoundRoutes {
  readonly routes: readonly Declared<RouteDeclaration>[];
  /** How many routes, or declarations that may have been one, were refused. */
  readonly refusals: number;
}

/** What a command makes of a route, and the rules whose errors do not keep it from that. */
export interface Wanted {
  /** `table`. */
  readonly what: string;
  readonly despite?: ReadonlySet<string>;
}

/** The routes asked for that have no errors; the findings of the others are printed. */
export async function soundRoutes(
  program: Program,
  scope: Scope,
  options: Options,
  { what, despite = new Set() }: Wanted,
): Promise<SoundRoutes> {
  const findings = new UnitFindings(program, options.maxSize);
  const routes: Declared<RouteDeclaration>[] = [];
  const width = screenWidth();
  const printed = new Set<Finding>();
  const isError = ({ severity, rule }: Finding): boolean =>
    severity === 'error' && !despite.has(rule);
  let refusals = 0;
  for (const route of routesOf(scope, options.text('route'))) {
    const found = findings.of(neededBy(route, scope));
    const errors = found.filter(isError).length;
    if (errors === 0) {
      routes.push(route);
      continue;
    }
    refusals++;
    await findings.print(found.filter((finding) => !printed.has(finding)), width); // prettier-ignore
    for (const finding of found) printed.add(finding);
    const name = route.declaration.name?.name ?? 'without a name';
    const many = errors === 1 ? 'an error' : `${errors} errors`;
    report(`route ${name}: no ${what}, as it has ${many}`);
  }
  // A declaration that is no longer to be recognised may have been a route.
  if (options.text('route') === undefined) {
    const broken = scope.file.tree.units.filter((each) => each.unit.declaration.kind === 'broken');
    const found = findings.of(broken.map((each) => each.unit));
    if (found.some(isError)) {
      refusals++;
      await findings.print(found, width);
    }
  }
  return { routes, refusals };
}
