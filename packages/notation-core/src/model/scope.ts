import type {
  Declaration,
  GameDeclaration,
  GroundDeclaration,
  HandsDeclaration,
  LetDeclaration,
  Name,
  RescueDeclaration,
  RouteDeclaration,
  SeenDeclaration,
  SpotDeclaration,
  Tree,
  Unit,
} from '../syntax/tree.js';
import { Memo } from '../text/memo.js';
import { type Game, gameless, readGame } from './game.js';
import { type ModelProblem, collector } from './problems.js';
import type { Program, SourceFile } from './program.js';

/** A declaration with the unit and the file that it stands in. */
export interface Declared<D extends Declaration> {
  readonly declaration: D;
  readonly unit: Unit;
  readonly file: SourceFile;
}

/** What the names in a file mean: its own declarations and those of the files that it uses. */
export interface Scope {
  readonly file: SourceFile;
  /** The files in scope: this one first, then used ones, each once. */
  readonly files: readonly SourceFile[];
  readonly games: readonly Declared<GameDeclaration>[];
  readonly phrases: ReadonlyMap<string, Declared<LetDeclaration>>;
  readonly routes: ReadonlyMap<string, Declared<RouteDeclaration>>;
  readonly spots: ReadonlyMap<string, Declared<SpotDeclaration>>;
  readonly hands: readonly Declared<HandsDeclaration>[];
  readonly grounds: ReadonlyMap<string, Declared<GroundDeclaration>>;
  readonly seen: readonly Declared<SeenDeclaration>[];
  readonly rescues: readonly Declared<RescueDeclaration>[];
  /** The game in force; one without inputs where none is declared. */
  readonly game: Game;
  /** Spots that a row of the log names, in the order of their first row. */
  readonly logged: ReadonlySet<string>;
  /** Names declared twice, at the later place, for the units of this file. */
  readonly duplicates: readonly ModelProblem[];
}

const games = new Memo<Unit, { game: Game; problems: ModelProblem[] }>();

/** The game of a declaration, read once a unit. */
export function gameOf(declaration: GameDeclaration, unit: Unit) {
  let known = games.get(unit);
  if (known === undefined) {
    const problems: ModelProblem[] = [];
    known = { game: readGame(declaration, unit, collector(problems)), problems };
    games.set(unit, known);
  }
  return known;
}

/** This file first, then the files it uses, depth first, each once. */
export function filesInScope(program: Program, file: SourceFile): SourceFile[] {
  const found = new Set<SourceFile>([file]);
  const stack = [...file.uses].reverse();
  for (let use = stack.pop(); use !== undefined; use = stack.pop()) {
    const used = program.files.get(use.path);
    if (used === undefined || found.has(used)) continue;
    found.add(used);
    for (let i = used.uses.length - 1; i >= 0; i--) {
      const next = used.uses[i];
      if (next !== undefined) stack.push(next);
    }
  }
  return [...found];
}

/** Whether a file sees a game by itself, so that its own check covers its phrases. */
export function filesInScopeHaveGame(file: SourceFile, scope: Scope): boolean {
  const seen = new Set<SourceFile>([file]);
  const byPath = new Map(scope.files.map((each) => [each.path, each]));
  for (const each of seen) {
    if (hasGame(each.tree)) return true;
    for (const use of each.uses) {
      const used = byPath.get(use.path);
      if (used !== undefined) seen.add(used);
    }
  }
  return false;
}

const withGame = new WeakMap<Tree, boolean>();

function hasGame(tree: Tree): boolean {
  let known = withGame.get(tree);
  if (known === undefined) {
    known = tree.units.some(({ unit }) => unit.declaration.kind === 'game');
    withGame.set(tree, known);
  }
  return known;
}

export function scopeOf(program: Program, file: SourceFile): Scope {
  const files = filesInScope(program, file);
  const phrases = new Map<string, Declared<LetDeclaration>>();
  const routes = new Map<string, Declared<RouteDeclaration>>();
  const spots = new Map<string, Declared<SpotDeclaration>>();
  const grounds = new Map<string, Declared<GroundDeclaration>>();
  const handsByName = new Map<string, Declared<HandsDeclaration>>();
  const hands: Declared<HandsDeclaration>[] = [];
  const seen: Declared<SeenDeclaration>[] = [];
  const rescues: Declared<RescueDeclaration>[] = [];
  const gamesFound: Declared<GameDeclaration>[] = [];
  const duplicates: ModelProblem[] = [];
  const report = collector(duplicates);

  // Used files first, so that a clash is reported at the name of the file that is looked at.
  for (const source of [...files.slice(1), file]) {
    for (const { unit } of source.tree.units) {
      const { declaration } = unit;
      const keep = <D extends Declaration>(
        names: Map<string, Declared<D>>,
        of: D,
        called: Name | undefined,
        kind: string,
      ): void => {
        if (called === undefined) return;
        const { name, start, end } = called;
        if (names.has(name)) {
          if (source === file) report('duplicate-name', { unit, start, end }, { kind, name });
        } else names.set(name, { declaration: of, unit, file: source });
      };
      switch (declaration.kind) {
        case 'let':
          keep(phrases, declaration, declaration.name, 'phrase');
          break;
        case 'route':
          keep(routes, declaration, declaration.name, 'route');
          break;
        case 'ground':
          keep(grounds, declaration, declaration.name, 'ground');
          break;
        case 'hands':
          keep(handsByName, declaration, declaration.name, 'hands');
          hands.push({ declaration, unit, file: source });
          break;
        case 'spot':
          keep(spots, declaration, declaration.spot, 'spot');
          break;
        case 'seen':
          seen.push({ declaration, unit, file: source });
          break;
        case 'rescue':
          rescues.push({ declaration, unit, file: source });
          break;
        case 'game':
          gamesFound.push({ declaration, unit, file: source });
          break;
        default:
          break;
      }
    }
  }
  const chosen = gamesFound[gamesFound.length - 1];
  const nowhere: Unit = { text: '', declaration: NOTHING, comments: [], problems: [] };
  return new Names({
    file,
    files,
    games: gamesFound,
    phrases,
    routes,
    spots,
    hands,
    grounds,
    seen,
    rescues,
    game: chosen === undefined ? gameless(nowhere) : gameOf(chosen.declaration, chosen.unit).game,
    duplicates,
  });
}

/**
 * A class, since every object literal with a getter of its own has a hidden class of its own,
 * which keeps all that the getter sees until a full collection.
 */
class Names implements Scope {
  readonly file: SourceFile;
  readonly files: Scope['files'];
  readonly games: Scope['games'];
  readonly phrases: Scope['phrases'];
  readonly routes: Scope['routes'];
  readonly spots: Scope['spots'];
  readonly hands: Scope['hands'];
  readonly grounds: Scope['grounds'];
  readonly seen: Scope['seen'];
  readonly rescues: Scope['rescues'];
  readonly game: Game;
  readonly duplicates: Scope['duplicates'];
  private loggedSpots: ReadonlySet<string> | undefined;

  constructor(of: Omit<Scope, 'logged'>) {
    this.file = of.file;
    this.files = of.files;
    this.games = of.games;
    this.phrases = of.phrases;
    this.routes = of.routes;
    this.spots = of.spots;
    this.hands = of.hands;
    this.grounds = of.grounds;
    this.seen = of.seen;
    this.rescues = of.rescues;
    this.game = of.game;
    this.duplicates = of.duplicates;
  }

  get logged(): ReadonlySet<string> {
    return (this.loggedSpots ??= loggedSpots(this.seen));
  }
}

const NOTHING: Declaration = { kind: 'broken', start: 0, end: 0 };

function loggedSpots(seen: readonly Declared<SeenDeclaration>[]): Set<string> {
  const names = new Set<string>();
  for (const { declaration } of seen) {
    for (const row of declaration.rows) {
      names.add(row.from.name);
      if (row.to !== undefined) names.add(row.to.name);
    }
  }
  return names;
}

/**
 * Puts a route or rescue in the place of an older one that declared the same name. The scope stays
 * the same object: a keystroke in a body changes no name, and what is known of a scope is known
 * by its names, games and log.
 */
export function replaceInScope(scope: Scope, old: Unit, unit: Unit, file: SourceFile): void {
  const { declaration } = unit;
  if (declaration.kind === 'route' && declaration.name !== undefined) {
    const { name } = declaration.name;
    // `scopeOf` made a Map; nobody else may write to it.
    const routes = scope.routes as Map<string, Declared<RouteDeclaration>>;
    if (routes.get(name)?.unit === old) routes.set(name, { declaration, unit, file });
  }
  if (declaration.kind === 'rescue') {
    const rescues = scope.rescues as Declared<RescueDeclaration>[];
    const at = rescues.findIndex((each) => each.unit === old);
    if (at >= 0) rescues[at] = { declaration, unit, file };
  }
}
