import { type Choices, Resolver } from '../model/resolve.js';
import type { Report as ModelReport } from '../model/problems.js';
import type { SourceFile } from '../model/program.js';
import { filesInScopeHaveGame, gameOf, type Scope } from '../model/scope.js';
import type { Sequence } from '../model/steps.js';
import type { GameDeclaration, Item, Unit } from '../syntax/tree.js';
import type { Params } from '../text/finding.js';
import { toNumber } from '../text/fraction.js';
import { LIMITS } from '../text/limits.js';
import { checkCoordinates } from './checks/coordinates.js';
import { checkHands } from './checks/hands.js';
import { isTooLong, type Lengths } from './checks/length.js';
import { checkHeader, NAMES, NamesVisitor, renewGuesses } from './checks/names.js';
import { PositionChecks } from './checks/positions.js';
import type { Limits } from './limits.js';
import { RULES, severityOf } from './registry.js';
import { Keys } from './keys.js';
import type { ItemPlace, LocalFix, Place, Report, Rule } from './rule.js';
import { visit, type Visitor } from './visit.js';
import { type Inside, type Listeners, Walk } from './walk.js';
import { choicesOf } from './ways.js';

/** A finding in a unit, its place counted from the start of the unit. */
export interface RawFinding {
  readonly rule: string;
  readonly start: number;
  readonly end: number;
  readonly params: Params;
  readonly fixes: (() => readonly LocalFix[]) | undefined;
  /** Where it is inside a phrase that is used at the place. */
  readonly inside: Place | undefined;
}

/** The rules that look for themselves. */
const CHECKING = (RULES as readonly Rule[]).filter(({ check }) => check !== undefined);

type ItemHook = (item: Item, at: ItemPlace) => void;

/** Which problems a declaration with broken syntax still gets: the others follow from the break. */
const OF_NAMES = new Set(['unknown-name', 'undeclared-input', 'duplicate-name', 'undeclared-spot']);

/**
 * Checks declarations of one scope, one at a time. What it says of a unit depends on the unit,
 * the scope and the limits alone, and is kept: asked again, it answers from memory.
 */
export class UnitChecker {
  private readonly known = new Map<Unit, readonly RawFinding[]>();
  private readonly resolver: Resolver;
  private readonly positions: PositionChecks;
  private readonly walk: Walk;
  private readonly logWalk: Walk;
  private readonly items: { where: RegExp | undefined; hook: ItemHook }[] = [];
  /** The hooks on items that the unit at hand is for. */
  private hooked: ItemHook[] = [];
  private readonly games: ((game: GameDeclaration, unit: Unit) => void)[] = [];
  private found: RawFinding[] = [];
  private keys = new Keys();
  private readonly keysOf = new Map<Unit, Keys>();
  private readonly lengths: Lengths = new Map();
  private readonly resolvers = new Map<string, Resolver>();
  private readonly tellers = new Map<SourceFile, boolean>();
  private prepared = false;
  private inPreparation = false;
  private unprepared: Iterator<{ readonly unit: Unit }> | undefined;
  private unit: Unit | undefined;
  private walking: Walk | undefined;

  constructor(
    readonly scope: Scope,
    limits: Limits,
  ) {
    this.resolver = new Resolver(scope);
    this.positions = new PositionChecks(scope);
    const fastest = Math.max(1, Math.min(limits.tapsPerSecond, limits.switchesPerSecond));
    // Whole ticks, so that sums of them are exact.
    const apart = Math.ceil(toNumber(scope.game.clock) / fastest);
    const memory = Math.max(scope.game.settle ?? 0, apart) + 2;
    const walkOf = (listeners: Listeners) =>
      new Walk(
        scope.game,
        limits,
        listeners,
        memory,
        (inside, usedAt) => {
          this.takeInside(inside, usedAt);
        },
        ({ rule, place }) => this.saidElsewhere(rule, place) !== true,
      );
    const rules = CHECKING;
    this.walk = walkOf(this.listeners(rules));
    this.logWalk = walkOf(this.listeners(rules.filter(({ inLog }) => inLog === true)));
    for (const rule of rules) {
      const { check } = rule;
      const report = this.reportOf(rule);
      const { item: itemHook, game: gameHook, where } = check ?? {};
      if (itemHook) this.items.push({ where, hook: (item, at) => itemHook(item, at, report) });
      if (gameHook) this.games.push((game, unit) => gameHook(game, { unit, scope }, report));
    }
  }

  /** What is wrong in a unit, in the order in which it was found. */
  check(unit: Unit): readonly RawFinding[] {
    const known = this.known.get(unit);
    if (known !== undefined) return known;
    this.prepare();
    const again = this.known.get(unit);
    if (again !== undefined) return again;
    this.found = [];
    this.keys = new Keys();
    this.unit = unit;
    this.hooked = this.items
      .filter(({ where }) => where?.test(unit.text) !== false)
      .map(({ hook }) => hook);
    for (const { code, start, end, params } of unit.problems) {
      this.take(code, { unit, start, end }, params);
    }
    this.declaration(unit);
    // What cannot be done, or means nothing, leads nowhere: it is not followed.
    if (this.found.every(({ rule }) => severityOf(rule) !== 'error')) {
      for (const { code, start, end, params } of this.positions.of(unit)) {
        this.take(code, { unit, start, end }, params);
      }
    }
    const { found } = this;
    const broken = unit.problems.length > 0;
    const kept = broken ? found.filter((each) => this.standsAlone(each)) : found;
    this.known.set(unit, kept);
    if (unit.declaration.kind === 'let') this.keysOf.set(unit, this.keys);
    return kept;
  }

  /** Phrases first: what their own check says need not be said again where they are used. */
  private prepare(): void {
    for (const _ of this.preparing());
  }

  /** The same in steps of one phrase. Whoever comes meanwhile takes over where it stands. */
  *preparing(): Generator<undefined, void, void> {
    this.unprepared ??= this.scope.phrases.values();
    while (!this.prepared && !this.inPreparation) {
      const next = this.unprepared.next();
      if (next.done === true) {
        this.prepared = true;
        return;
      }
      this.inPreparation = true;
      this.check(next.value.unit);
      this.inPreparation = false;
      yield;
    }
  }

  /**
   * Lets go of a unit that has changed, or for which something has changed that it depends on.
   * Not for phrases: of those other units may hold what was found in them.
   */
  forget(unit: Unit): void {
    this.known.delete(unit);
    this.positions.forget(unit);
  }

  /** Near names are looked for again, as often as for a new file. */
  renewGuesses(): void {
    this.resolver.renewGuesses();
    renewGuesses(this.scope);
  }

  /**
   * Whether a phrase's own check says what was found inside it; undefined where that check is
   * still to come. A phrase of a file that sees no game has no check but this one.
   */
  saidElsewhere(rule: string, place: Place): boolean | undefined {
    const { declaration } = place.unit;
    if (declaration.kind !== 'let' || declaration.name === undefined) return false;
    const declared = this.scope.phrases.get(declaration.name.name);
    if (declared === undefined || !this.tells(declared.file)) return false;
    return this.keysOf.get(place.unit)?.has(rule, place.start, place.end);
  }

  private tells(file: SourceFile): boolean {
    let tells = this.tellers.get(file);
    if (tells === undefined) {
      tells = file === this.scope.file || filesInScopeHaveGame(file, this.scope);
      this.tellers.set(file, tells);
    }
    return tells;
  }

  private standsAlone({ rule }: RawFinding): boolean {
    return OF_NAMES.has(rule) || this.unit?.problems.some(({ code }) => code === rule) === true;
  }

  private declaration(unit: Unit): void {
    const { declaration } = unit;
    const { scope } = this;
    switch (declaration.kind) {
      case 'game':
        for (const problem of gameOf(declaration, unit).problems) {
          this.take(problem.code, problem, problem.params);
        }
        for (const hook of this.games) hook(declaration, unit);
        break;
      case 'hands':
        checkHands(declaration, unit, this.report);
        break;
      case 'spot':
      case 'ground':
        checkCoordinates(declaration, unit, this.report);
        if (declaration.kind === 'ground') {
          for (const move of declaration.moves) this.body(move.body, unit, this.logWalk);
        }
        break;
      case 'let':
        this.body(declaration.body, unit, this.walk);
        break;
      case 'seen':
        for (const row of declaration.rows) this.body(row.body, unit, this.logWalk);
        break;
      case 'route':
      case 'rescue':
        checkHeader(declaration, unit, scope, this.report);
        this.body(declaration.body, unit, this.walk);
        break;
      default:
        break;
    }
  }

  private body(items: readonly Item[], unit: Unit, walk: Walk): void {
    const { scope } = this;
    if (items.length === 0) return;
    const inLog = walk === this.logWalk;
    if (inLog) {
      if (this.hooked.length > 0) visit(items, unit, this.plain);
    } else if (this.hooked.length > 0 || NAMES.test(unit.text)) {
      visit(items, unit, new NamesVisitor(this.plain, scope, unit, this.report));
    }
    const sequence = this.resolver.resolve(items, unit, this.report, { mayChoose: !inLog });
    this.walkOver(sequence, walk);
    if (!inLog && isTooLong(sequence, scope.game, this.lengths)) this.takeTooLong(unit);
    if (inLog || !unit.text.includes('choose')) return;
    const [, ...others] = choicesOf(items);
    for (const choices of others) {
      this.walkOver(this.resolverOf(choices).resolve(items, unit), walk);
    }
  }

  /** Declarations that take the same ways share their phrases, and what was found in these. */
  private resolverOf(choices: Choices): Resolver {
    const key = JSON.stringify([...choices]);
    let resolver = this.resolvers.get(key);
    if (resolver === undefined) {
      resolver = new Resolver(this.scope, choices);
      this.resolvers.set(key, resolver);
    }
    return resolver;
  }

  private takeTooLong(unit: Unit): void {
    const { declaration } = unit;
    const named = 'name' in declaration ? declaration.name : undefined;
    const { start, end } = named ?? { start: declaration.start, end: declaration.start + 6 };
    this.take('too-long', { unit, start, end }, { limit: LIMITS.count });
  }

  private walkOver(sequence: Sequence, walk: Walk): void {
    if (sequence.first === undefined || this.scope.games.length === 0) return;
    this.walking = walk;
    walk.run(sequence, this.unit?.declaration.kind === 'route');
    this.walking = undefined;
  }

  /** In the log every spot is what its row says, and nobody chooses. */
  private readonly plain: Visitor = {
    item: (item, at) => {
      for (const hook of this.hooked) hook(item, at);
    },
    spot: () => undefined,
  };

  private readonly report: ModelReport = (code, at, params) => {
    this.take(code, at, params);
  };

  private take(
    rule: string,
    place: Place,
    params: Params,
    fixes?: () => readonly LocalFix[],
  ): void {
    const { walking } = this;
    if (walking?.usedAt !== undefined) {
      const inside: Inside = { rule, place, params };
      if (walking.inside !== undefined) walking.inside.push(inside);
      else this.takeInside(inside, walking.usedAt);
      return;
    }
    this.keep({ rule, start: place.start, end: place.end, params, fixes, inside: undefined });
  }

  private takeInside({ rule, place, params }: Inside, { start, end }: Place): void {
    const outer = this.walking?.inside;
    if (outer !== undefined) outer.push({ rule, place, params });
    else {
      const said = this.saidElsewhere(rule, place);
      if (said === true) return;
      this.keep({ rule, start, end, params, fixes: undefined, inside: place }, said === undefined);
    }
  }

  /** Another pass over the same items finds the same again. */
  private keep(found: RawFinding, pending = false): void {
    const { rule, start, end } = found;
    // Of what is pending a later one may be kept where the first is said elsewhere.
    if (this.keys.add(rule, start, end) || pending) this.found.push(found);
  }

  /** The checks of the rules for each moment, each with a report that knows its rule. */
  private listeners(rules: readonly Rule[]): Listeners {
    const all: Record<keyof Listeners, ((walk: Walk) => void)[]> = {
      begin: [],
      rise: [],
      open: [],
      window: [],
    };
    for (const moment of ['begin', 'rise', 'open', 'window'] as const) {
      for (const rule of rules) {
        const hook = rule.check?.[moment];
        if (hook === undefined) continue;
        const report = this.reportOf(rule);
        all[moment].push((walk) => hook(walk, report));
      }
    }
    return all;
  }

  private reportOf(rule: Rule): Report<Params> {
    return (place, params, fixes) => {
      this.take(rule.name, place, params, fixes);
    };
  }
}
