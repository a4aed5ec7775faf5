import { Resolver } from '../model/resolve.js';
import type { Declared, Scope } from '../model/scope.js';
import type { SeenDeclaration, SeenRow, Unit } from '../syntax/tree.js';
import { compile, lengthOf, type Node } from './compile.js';
import { Tokens } from './tokens.js';

/** One landing of one row of the log. Counts are sightings. */
export interface Outcome {
  readonly to: number;
  /** Sightings of all rows that say so. */
  count: number;
  /** The first row that says so. */
  readonly row: SeenRow;
  readonly unit: Unit;
  /** Further rows that say the same. */
  more: SeenRow[] | undefined;
}

/** A row of at least three tokens, with the node that it ends at. */
export interface LongRow {
  readonly from: number;
  readonly ids: readonly number[];
  readonly node: number;
  readonly row: SeenRow;
  readonly unit: Unit;
}

/** The items of a row, brackets that touch a paused spot left out; shared by all rows alike. */
export interface Stretch {
  readonly id: number;
  readonly ids: readonly number[];
}

/** The items of one text, and the stretches that it makes with and without its outer brackets. */
interface Body {
  readonly ids: readonly number[];
  readonly stretches: (Stretch | undefined)[];
}

/** Rows longer than this many items are not taken. */
export const LONGEST_ROW = 1000;

/**
 * The research log, compiled: spots and items as numbers, rows as a tree of items for each
 * spot, all edges in one open-addressed table so that a million rows stay small and fast.
 */
export class Log {
  readonly tokens: Tokens;
  readonly names: string[] = [];
  private readonly ids = new Map<string, number>();
  /** Whether the spot is a state inside a pause. */
  readonly paused: boolean[] = [];
  /** Spots with a row that begins there, in the order of the log. */
  readonly starts: number[] = [];
  private readonly isStart: boolean[] = [];
  /** Whether some row, or move on ground, begins with a wait; else a wait is only a wait. */
  waitsFirst = false;
  /** Items of the longest row; at least 1. */
  longest = 1;
  rowCount = 0;
  readonly tooLong: { row: SeenRow; unit: Unit }[] = [];
  /** Rows over several items, which others may contradict. */
  readonly long: LongRow[] = [];

  /** Every stretch that some row is made of. */
  readonly stretches: Stretch[] = [];
  /** One entry for each spot and stretch with an outcome, in the order of the log. */
  readonly entries = {
    from: [] as number[],
    node: [] as number[],
    stretch: [] as number[],
  };
  private readonly stretchOf = new Map<string, Stretch>();

  // Node n < 2^31: children by (node, token) in the table, outcomes by node.
  private nodes = 0;
  private keys = new Float64Array(1 << 10).fill(-1);
  private values = new Int32Array(1 << 10);
  private used = 0;
  private readonly roots: number[] = [];
  /** Whether some row goes on behind the node. */
  readonly goesOn: boolean[] = [];
  readonly outcomes: (Outcome[] | undefined)[] = [];
  /** Neutral frames at the end of the row that ends at the node; Infinity where it settles. */
  readonly trailing: number[] = [];

  constructor(
    readonly scope: Scope,
    readonly resolver: Resolver = new Resolver(scope),
  ) {
    this.tokens = new Tokens();
    for (const [name, { declaration }] of scope.spots) {
      this.paused[this.spot(name)] = declaration.paused;
    }
    const bodies = new Map<string, Map<Unit, Body>>();
    for (const seen of scope.seen) this.addRows(seen, bodies);
  }

  /** The number of a spot, made where it is new. */
  spot(name: string): number {
    let id = this.ids.get(name);
    if (id === undefined) {
      id = this.names.length;
      this.ids.set(name, id);
      this.names.push(name);
      this.paused.push(false);
      this.isStart.push(false);
      this.roots.push(-1);
    }
    return id;
  }

  find(name: string): number | undefined {
    return this.ids.get(name);
  }

  name(spot: number): string {
    return this.names[spot] ?? '?';
  }

  /** The node of the rows that begin at a spot, or -1. */
  root(spot: number): number {
    return this.roots[spot] ?? -1;
  }

  /** The node behind one more item, or -1. */
  child(node: number, token: number): number {
    const key = node * 0x200000 + token;
    const mask = this.keys.length - 1;
    let i = hash(node, token) & mask;
    for (let found = this.keys[i]; found !== -1; found = this.keys[i]) {
      if (found === key) return this.values[i] ?? -1;
      i = (i + 1) & mask;
    }
    return -1;
  }

  private addChild(node: number, token: number): number {
    const known = this.child(node, token);
    if (known >= 0) return known;
    if (this.used * 2 >= this.keys.length) this.grow();
    const made = this.nodes++;
    this.goesOn[node] = true;
    this.goesOn[made] = false;
    this.insert(node, token, made);
    return made;
  }

  private insert(node: number, token: number, value: number): void {
    const mask = this.keys.length - 1;
    let i = hash(node, token) & mask;
    while (this.keys[i] !== -1) i = (i + 1) & mask;
    this.keys[i] = node * 0x200000 + token;
    this.values[i] = value;
    this.used++;
  }

  private grow(): void {
    const { keys, values } = this;
    this.keys = new Float64Array(keys.length * 2).fill(-1);
    this.values = new Int32Array(keys.length * 2);
    this.used = 0;
    for (let i = 0; i < keys.length; i++) {
      const key = keys[i];
      if (key === undefined || key === -1) continue;
      const node = Math.floor(key / 0x200000);
      this.insert(node, key - node * 0x200000, values[i] ?? 0);
    }
  }

  private addRows(seen: Declared<SeenDeclaration>, bodies: Map<string, Map<Unit, Body>>): void {
    const { unit, declaration } = seen;
    for (const row of declaration.rows) {
      if (row.to === undefined || row.body.length === 0) continue;
      const from = this.spot(row.from.name);
      const to = this.spot(row.to.name);
      // Rows repeat the same few moves: each text is given its meaning once.
      const first = row.body[0];
      const last = row.body[row.body.length - 1];
      const text = unit.text.slice(first?.start, last?.end);
      let body = bodies.get(text)?.get(seen.unit);
      if (body === undefined) {
        body = { ids: this.tokensOf(row, unit), stretches: [] };
        let byUnit = bodies.get(text);
        if (byUnit === undefined) {
          byUnit = new Map<Unit, Body>();
          bodies.set(text, byUnit);
        }
        byUnit.set(seen.unit, body);
      }
      const { ids } = body;
      if (ids.length > LONGEST_ROW || ids.length === 0) {
        if (ids.length > 0) this.tooLong.push({ row, unit });
        continue;
      }
      this.rowCount++;
      this.addRow(from, to, body, row, unit);
    }
  }

  private addRow(from: number, to: number, body: Body, row: SeenRow, unit: Unit): void {
    const { ids } = body;
    const { open, close } = this.tokens;
    // The bracket that touches a paused spot stays open.
    const start = this.paused[from] === true && ids[0] === open ? 1 : 0;
    const stays = this.paused[to] === true && ids[ids.length - 1] === close;
    const end = stays ? ids.length - 1 : ids.length;
    if (end <= start) return;
    if (this.isStart[from] !== true) {
      this.isStart[from] = true;
      this.starts.push(from);
    }
    let node = this.roots[from] ?? -1;
    if (node < 0) {
      node = this.nodes++;
      this.roots[from] = node;
    }
    for (let i = start; i < end; i++) node = this.addChild(node, ids[i] ?? 0);
    if ((this.tokens.neutral[ids[start] ?? 0] ?? -1) >= 0) this.waitsFirst = true;
    this.longest = Math.max(this.longest, end - start);
    if (end - start >= 3) {
      const part = start === 0 && end === ids.length ? ids : ids.slice(start, end);
      this.long.push({ from, ids: part, node, row, unit });
    }
    let outcomes = this.outcomes[node];
    if (outcomes === undefined) {
      outcomes = [];
      this.outcomes[node] = outcomes;
      const { entries } = this;
      entries.from.push(from);
      entries.node.push(node);
      entries.stretch.push(this.stretch(body, start, end).id);
      let trailing = 0;
      for (let i = end - 1; i >= start; i--) {
        const neutral = this.tokens.neutral[ids[i] ?? 0] ?? -1;
        if (neutral < 0) break;
        trailing += neutral;
      }
      this.trailing[node] = trailing;
    }
    const same = outcomes.find((outcome) => outcome.to === to);
    if (same === undefined) outcomes.push({ to, count: row.count, row, unit, more: undefined });
    else {
      same.count += row.count;
      (same.more ??= []).push(row);
    }
  }

  private stretch(body: Body, start: number, end: number): Stretch {
    const which = start * 2 + body.ids.length - end;
    let stretch = body.stretches[which];
    if (stretch === undefined) {
      const ids = body.ids.slice(start, end);
      const key = ids.join(' ');
      stretch = this.stretchOf.get(key);
      if (stretch === undefined) {
        stretch = { id: this.stretches.length, ids };
        this.stretches.push(stretch);
        this.stretchOf.set(key, stretch);
      }
      body.stretches[which] = stretch;
    }
    return stretch;
  }

  /** A row's items as tokens, its brackets included. */
  tokensOf(row: SeenRow, unit: Unit): number[] {
    const sequence = this.resolver.resolve(row.body, unit, undefined, { mayChoose: false });
    const nodes = compile(sequence, this.tokens);
    if (lengthOf(nodes) > LONGEST_ROW) return new Array<number>(LONGEST_ROW + 1).fill(0);
    return writeOut(nodes, []);
  }
}

/** The tokens of nodes one by one; only for what is known to be short. */
export function writeOut(nodes: readonly Node[], into: number[]): number[] {
  for (const node of nodes) {
    if (node.kind === 'run') for (const id of node.ids) into.push(id);
    else {
      writeOut(node.body, into);
      for (let i = 1; i < node.count; i++) writeOut(node.again, into);
    }
  }
  return into;
}

function hash(node: number, token: number): number {
  // Multiplicative hashing (Knuth, TAOCP 3, 6.4) of both halves of the key.
  let h = Math.imul(node ^ Math.imul(token, 0x85ebca6b), 0x9e3779b1);
  h ^= h >>> 15;
  return h >>> 0;
}
