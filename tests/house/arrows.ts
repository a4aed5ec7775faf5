import { isBuiltin } from 'node:module';
import { posix } from 'node:path';
import ts from 'typescript';

/** Source files by their path from the workspace's root, with `/` between folders. */
export type Sources = ReadonlyMap<string, string>;

const CORE = 'packages/notation-core/src/';

/**
 * What each room of the core may import. Not simply "everything before it": the odds work on what
 * the model and the log say and never on text; editors and publishing stand side by side; the command
 * line needs nothing that an editor does.
 */
const ROOMS: Readonly<Record<string, readonly string[]>> = {
  text: [],
  syntax: ['text'],
  model: ['text', 'syntax'],
  timeline: ['text', 'syntax', 'model'],
  positions: ['text', 'syntax', 'model', 'timeline'],
  odds: ['model', 'timeline', 'positions'],
  rules: ['text', 'syntax', 'model', 'timeline', 'positions', 'odds'],
  ide: ['text', 'syntax', 'model', 'timeline', 'positions', 'odds', 'rules'],
  publish: ['text', 'syntax', 'model', 'timeline', 'positions', 'odds', 'rules'],
  cli: ['text', 'syntax', 'model', 'timeline', 'positions', 'odds', 'rules', 'publish'],
};

/** Packages that only one place may know, by the start of their name. */
const KEPT: readonly { name: RegExp; where: RegExp }[] = [
  { name: /^commander$/, where: /^packages\/notation-core\/src\/cli\// },
  { name: /^vscode-(languageserver|jsonrpc)/, where: /^packages\/lsp\// },
  { name: /^vscode(-languageclient.*)?$/, where: /^packages\/vscode-ext\// },
];

/** Node is for the command line and for the node entries of the editor packages. */
const NODE = /^packages\/(notation-core\/src\/cli\/|(lsp|vscode-ext)\/src\/(.*\/)?node(\.ts$|\/))/;

/** Everything in the sources that the plan of the house forbids, one line each, sorted. */
export function trespasses(sources: Sources): string[] {
  const found: string[] = [];
  const arrows = new Map<string, string[]>();
  for (const [file, text] of sources) {
    const targets: string[] = [];
    for (const { fileName } of ts.preProcessFile(text, true, true).importedFiles) {
      if (fileName.startsWith('.')) {
        const target = posix.join(posix.dirname(file), fileName).replace(/\.js$/, '.ts');
        if (sources.has(target)) targets.push(target);
        else found.push(`${file}: imports ${fileName}, which is not there`);
        const reason = arrowUp(file, target);
        if (reason !== undefined) found.push(`${file}: imports ${target}: ${reason}`);
      } else {
        found.push(...foreign(file, fileName).map((reason) => `${file}: ${reason}`));
      }
    }
    arrows.set(file, targets);
    found.push(...spoken(file, text).map((reason) => `${file}: ${reason}`));
  }
  return [...found, ...circles(arrows)].sort();
}

function roomOf(file: string): string | undefined {
  return file.startsWith(CORE) && file.includes('/', CORE.length)
    ? file.slice(CORE.length, file.indexOf('/', CORE.length))
    : undefined;
}

function arrowUp(file: string, target: string): string | undefined {
  const packageOf = (path: string): string => path.split('/', 2).join('/');
  if (packageOf(file) !== packageOf(target)) return 'another package goes by its name';
  if (!file.startsWith(CORE)) return undefined;
  const room = roomOf(file);
  const other = roomOf(target);
  if (room === undefined) return other === 'cli' ? 'the index must not know cli' : undefined;
  if (other === undefined) return 'a room must not know the index';
  if (room === other) return undefined;
  const below = ROOMS[room];
  if (below === undefined) return `${room} is no room of the house`;
  return below.includes(other) ? undefined : `${room} must not know ${other}`;
}

function foreign(file: string, name: string): string[] {
  const found: string[] = [];
  if (isBuiltin(name) && !NODE.test(file)) found.push(`imports ${name} outside the rooms of Node`);
  if (file.startsWith(CORE) && name.startsWith('@tiptoe/'))
    found.push(`imports ${name} from below`);
  for (const kept of KEPT) {
    if (kept.name.test(name) && !kept.where.test(file))
      found.push(`imports ${name} outside its room`);
  }
  return found;
}

/** Default exports, and the globals of Node where there is no Node. */
function spoken(file: string, text: string): string[] {
  const found: string[] = [];
  const tree = ts.createSourceFile(file, text, ts.ScriptTarget.ES2022, true);
  const visit = (node: ts.Node): void => {
    if (isDefaultExport(node)) found.push('exports a default');
    if (ts.isIdentifier(node) && isFree(node) && !NODE.test(file)) {
      if (node.text === 'process' || node.text === 'Buffer') {
        found.push(`uses ${node.text} outside the rooms of Node`);
      }
    }
    ts.forEachChild(node, visit);
  };
  visit(tree);
  return found;
}

function isDefaultExport(node: ts.Node): boolean {
  if (ts.isExportAssignment(node)) return true;
  if (ts.isExportSpecifier(node)) return node.name.text === 'default';
  return (
    ts.canHaveModifiers(node) &&
    (ts.getModifiers(node) ?? []).some((m) => m.kind === ts.SyntaxKind.DefaultKeyword)
  );
}

/** Whether the identifier reads a variable, rather than names a property or declares something. */
function isFree(node: ts.Identifier): boolean {
  const { parent } = node;
  if (ts.isPropertyAccessExpression(parent)) return parent.expression === node;
  if (ts.isPropertyAssignment(parent)) return parent.initializer === node;
  if (ts.isShorthandPropertyAssignment(parent)) return true;
  return !('name' in parent && parent.name === node);
}

/** Every circle of files, told once, from its first file in alphabetical order. */
function circles(arrows: ReadonlyMap<string, readonly string[]>): string[] {
  return components(arrows)
    .filter(
      (members) => members.length > 1 || arrows.get(members[0] ?? '')?.includes(members[0] ?? ''),
    )
    .map((members) => `circle: ${members.sort().join(' <-> ')}`);
}

/** Strongly connected components: R. Tarjan, "Depth-first search and linear graph algorithms" (1972). */
function components(arrows: ReadonlyMap<string, readonly string[]>): string[][] {
  const order = new Map<string, number>();
  const open: string[] = [];
  const result: string[][] = [];
  const visit = (file: string): number => {
    const number = order.size;
    order.set(file, number);
    open.push(file);
    let lowest = number;
    for (const next of arrows.get(file) ?? []) {
      const seen = order.get(next);
      if (seen === undefined) lowest = Math.min(lowest, visit(next));
      else if (open.includes(next)) lowest = Math.min(lowest, seen);
    }
    if (lowest === number) result.push(open.splice(open.indexOf(file)));
    return lowest;
  };
  for (const file of arrows.keys()) if (!order.has(file)) visit(file);
  return result;
}
