import type {
  Declaration,
  Item,
  Name,
  RescueDeclaration,
  RouteDeclaration,
  Unit,
} from '../syntax/tree.js';

/** What a name in the text names. */
export type NameKind =
  'phrase' | 'route' | 'spot' | 'ground' | 'hands' | 'input' | 'choice' | 'way' | 'axis' | 'button';

/**
 * One name in a unit. Offsets count from the start of the unit and cover the name alone: a
 * spot without its `@`, one letter of a press. `declares` is true where the name is given
 * (a spot is also given by the log; only its `spot` line declares it).
 */
export interface Occurrence {
  readonly kind: NameKind;
  readonly name: string;
  readonly start: number;
  readonly end: number;
  readonly declares: boolean;
  /** Ways belong to a choice, choices and ways to a route: its name, or '' . */
  readonly within: string;
  /** Where the `choose` of a way begins; -1 for every other name. */
  readonly choose: number;
}

const known = new WeakMap<Unit, readonly Occurrence[]>();

/** Every name in a unit in the order of the text, found once a unit. */
export function occurrencesOf(unit: Unit): readonly Occurrence[] {
  let found = known.get(unit);
  if (found === undefined) {
    const list: Occurrence[] = [];
    walkNames(unit, 'all', (kind, name, start, end, declares, within, choose) => {
      list.push({ kind, name, start, end, declares, within, choose });
    });
    found = list.sort((a, b) => a.start - b.start);
    known.set(unit, found);
  }
  return found;
}

/** Takes one name of a declaration. */
export interface TakeName {
  (
    kind: NameKind,
    name: string,
    start: number,
    end: number,
    declares: boolean,
    within: string,
    choose: number,
  ): void;
}

/** Which names are walked: inputs are most of them by far, and often none is asked for. */
export type Walked = 'all' | 'inputs' | 'others';

/** Hands over the names of a unit, nearly in the order of the text. */
export function walkNames(unit: Unit, walked: Walked, take: TakeName): void {
  new Walk(walked, take).of(unit.declaration);
}

class Walk {
  private within = '';
  private readonly inputs: boolean;
  private readonly others: boolean;

  constructor(
    walked: Walked,
    private readonly take: TakeName,
  ) {
    this.inputs = walked !== 'others';
    this.others = walked !== 'inputs';
  }

  of(declaration: Declaration): void {
    switch (declaration.kind) {
      case 'let':
        this.name('phrase', declaration.name, true);
        this.items(declaration.body);
        break;
      case 'spot':
        this.spot(declaration.spot, true);
        break;
      case 'seen':
        for (const row of declaration.rows) {
          this.spot(row.from);
          this.items(row.body);
          this.spot(row.to);
        }
        break;
      case 'ground':
        this.name('ground', declaration.name, true);
        for (const move of declaration.moves) this.items(move.body);
        break;
      case 'hands':
        this.name('hands', declaration.name, true);
        break;
      case 'route':
        this.route(declaration);
        break;
      case 'rescue':
        this.rescue(declaration);
        break;
      case 'game':
        for (const line of declaration.inputs) {
          this.name('input', line.letter, true);
          this.name(line.value === undefined ? 'button' : 'axis', line.target, false);
        }
        for (const pause of declaration.pauses) this.name('input', pause.letter, true);
        break;
      case 'use':
      case 'broken':
        break;
    }
  }

  private route(route: RouteDeclaration): void {
    this.within = route.name?.name ?? '';
    this.name('route', route.name, true);
    if (route.from !== undefined && route.from !== 'anywhere') {
      for (const { spot } of route.from) this.spot(spot);
    }
    this.spot(route.to);
    this.items(route.body);
  }

  private rescue(rescue: RescueDeclaration): void {
    this.within = rescue.route?.name ?? '';
    this.spot(rescue.spot);
    this.name('route', rescue.route, false);
    this.items(rescue.body);
    this.spot(rescue.to);
  }

  private name(kind: NameKind, name: Name | undefined, declares: boolean): void {
    if (name !== undefined) this.add(kind, name.name, name.start, name.end, declares);
  }

  /** A spot's name stands behind its `@`. */
  private spot(name: Name | undefined, declares = false): void {
    if (name !== undefined) this.add('spot', name.name, name.start + 1, name.end, declares);
  }

  private add(kind: NameKind, name: string, start: number, end: number, declares: boolean): void {
    if (kind === 'input' ? this.inputs : this.others) {
      this.take(kind, name, start, end, declares, this.within, -1);
    }
  }

  private items(items: readonly Item[]): void {
    for (const item of items) {
      switch (item.kind) {
        case 'press':
        case 'hold':
          for (let i = 0; this.inputs && i < item.inputs.length; i++) {
            const at = item.start + i;
            this.add('input', item.inputs.charAt(i), at, at + 1, false);
          }
          if (item.kind === 'hold') this.items(item.body);
          break;
        case 'group':
        case 'pause':
          this.items(item.body);
          break;
        case 'phrase':
          this.add('phrase', item.name, item.start, item.nameEnd, false);
          break;
        case 'choose':
          this.name('choice', item.name, true);
          for (const way of item.ways) {
            const { name, start, end } = way.name;
            if (this.others) this.take('way', name, start, end, true, this.within, item.start);
            this.items(way.body);
          }
          break;
        default:
          break;
      }
      this.spot(item.repeat?.until);
      for (const mark of item.marks) if (mark.kind === 'claim') this.spot(mark);
    }
  }
}
