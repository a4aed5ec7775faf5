import type { Item, Unit } from '../../syntax/tree.js';
import type { Report } from '../../model/problems.js';
import type { Program, SourceFile } from '../../model/program.js';
import { filesInScope, type Scope } from '../../model/scope.js';

/** What only the whole of a file shows of its games: none where inputs are pressed, or two. */
export function checkGames(program: Program, scope: Scope, report: Report): void {
  const { file, games } = scope;
  if (games.length === 0) {
    const first = firstPlayed(file);
    if (first !== undefined) report('game-unclear', first, { count: 0, titles: '' });
    return;
  }
  if (games.length < 2) return;
  const titles = games.map(({ declaration }) => `"${declaration.title?.value ?? ''}"`).join(', ');
  const params = { count: games.length, titles };
  const own = games.find((game) => game.file === file);
  if (own !== undefined) {
    const { start, end } = own.declaration.title ?? own.declaration;
    report('game-unclear', { unit: own.unit, start, end }, params);
    return;
  }
  // The `use` with which a second game comes in.
  let seen = 0;
  const counted = new Set<SourceFile>();
  for (const use of file.uses) {
    const used = program.files.get(use.path);
    if (used === undefined) continue;
    for (const each of filesInScope(program, used)) {
      if (counted.has(each)) continue;
      counted.add(each);
      seen += games.filter((game) => game.file === each).length;
    }
    const path = use.declaration.path;
    if (seen < 2 || path === undefined) continue;
    report('game-unclear', { unit: use.placed.unit, start: path.start, end: path.end }, params);
    return;
  }
}

/** The name of the first route or rescue that presses anything. */
function firstPlayed(file: SourceFile): { unit: Unit; start: number; end: number } | undefined {
  for (const { unit } of file.tree.units) {
    const { declaration } = unit;
    if (declaration.kind !== 'route' && declaration.kind !== 'rescue') continue;
    if (unit.problems.length > 0 || !presses(declaration.body)) continue;
    const named = declaration.kind === 'route' ? declaration.name : declaration.spot;
    const { start, end } = named ?? declaration;
    return { unit, start, end };
  }
  return undefined;
}

function presses(items: readonly Item[]): boolean {
  return items.some((item) => {
    if (item.kind === 'choose') return item.ways.some((way) => presses(way.body));
    if (item.kind === 'group') return presses(item.body);
    return item.kind === 'press' || item.kind === 'hold' || item.kind === 'pause';
  });
}
