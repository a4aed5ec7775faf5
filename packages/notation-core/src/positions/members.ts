import type { Between } from './effort.js';
import { likeliest } from './graph.js';
import type { Grounds } from './ground.js';
import type { Log, Outcome } from './log.js';

/**
 * One way things can stand after some items: the last place that is certain, and the items
 * since then that a longer row from there could still take in.
 */
export interface Member {
  readonly place: number;
  readonly tail: readonly number[];
}

export interface ReadingOptions {
  /** Only the most sighted landing of each row. */
  readonly likely: boolean;
  /** Rows with a landing seen less often are not used. */
  readonly least: number;
}

/**
 * Reads items by the log as the checker does, the longest row first, for items that grow:
 * a row that could still be longer stays open.
 */
export class Reading {
  /** `between`: what parts two stretches, so what a row that goes on has to go on with. */
  constructor(
    private readonly log: Log,
    private readonly grounds: Grounds,
    private readonly between: Between,
    private readonly options: ReadingOptions,
  ) {}

  private goesOn(node: number, last: number): boolean {
    const { log, between } = this;
    if (log.goesOn[node] !== true) return false;
    if (between.anyGap || log.tokens.paused[last] === true) return true;
    return log.child(node, between.id) >= 0 || log.child(node, log.tokens.settle) >= 0;
  }

  /** Where a member stands after more items; undefined where the log does not say. */
  advance(member: Member, more: readonly number[]): Member[] | undefined {
    const tokens = member.tail.length === 0 ? more : [...member.tail, ...more];
    const found: Member[] = [];
    return this.read(member.place, tokens, 0, found) ? found : undefined;
  }

  /** Where a member is if nothing follows, the most sighted place first. */
  ends(member: Member): readonly number[] {
    const { place, tail } = member;
    if (tail.length === 0) return [place];
    const found: number[] = [];
    this.read(place, tail, 0, undefined, found);
    return found;
  }

  /** Every way on from a place; what is open ends there. False where one is not known. */
  private read(
    from: number,
    tokens: readonly number[],
    begin: number,
    into: Member[] | undefined,
    ends: number[] = [],
  ): boolean {
    // A list of its own: a course over ground may be longer than the stack is deep.
    const left = [{ place: from, at: begin }];
    let seen: Set<string> | undefined;
    for (let next = left.pop(); next !== undefined; next = left.pop()) {
      const { place, at } = next;
      if (left.length > 0) seen ??= new Set();
      if (seen?.has(`${place} ${at}`) === true) continue;
      seen?.add(`${place} ${at}`);
      if (at === tokens.length) {
        if (into !== undefined) add(into, { place, tail: [] });
        else if (!ends.includes(place)) ends.push(place);
        continue;
      }
      const match = this.match(place, tokens, at);
      if (match.isOpen && into !== undefined) {
        // Whatever comes, it has to end well if nothing does.
        if (!this.read(place, tokens, at, undefined)) return false;
        add(into, { place, tail: tokens.slice(at) });
        continue;
      }
      const ways = this.onward(match, place, tokens, at);
      if (ways === undefined) return false;
      for (let k = ways.length - 1; k >= 0; k--) {
        const way = ways[k];
        if (way !== undefined) left.push(way);
      }
    }
    return true;
  }

  /** Where one row, move or wait leads, the most sighted place first. */
  private onward(
    { outcomes, length }: Match,
    place: number,
    tokens: readonly number[],
    at: number,
  ): readonly { place: number; at: number }[] | undefined {
    const { log, grounds, options } = this;
    if (outcomes !== undefined) {
      const taken = options.likely ? likeliest(outcomes) : bestFirst(outcomes);
      if (taken.some(({ count }) => count < options.least)) return undefined;
      return taken.map(({ to }) => ({ place: to, at: at + length }));
    }
    const landing = grounds.move(
      place,
      (ahead) => tokens[at + ahead] ?? -1,
      ({ ids }) => this.rests(0, ids[ids.length - 1] ?? 0, at + ids.length, tokens),
    );
    if (landing !== undefined) {
      return landing.off ? undefined : [{ place: landing.place, at: at + landing.length }];
    }
    const waits = (log.tokens.neutral[tokens[at] ?? 0] ?? -1) >= 0;
    return waits ? [{ place, at: at + 1 }] : undefined;
  }

  private match(place: number, tokens: readonly number[], from: number): Match {
    const { log } = this;
    let node = log.root(place);
    let outcomes: readonly Outcome[] | undefined;
    let length = 0;
    let at = from;
    for (; node >= 0 && at < tokens.length; at++) {
      const token = tokens[at] ?? 0;
      node = log.child(node, token);
      if (node < 0) break;
      const found = log.outcomes[node];
      if (found !== undefined && this.rests(log.trailing[node] ?? 0, token, at + 1, tokens)) {
        outcomes = found;
        length = at + 1 - from;
      }
    }
    return {
      outcomes,
      length,
      isOpen: node >= 0 && this.goesOn(node, tokens[tokens.length - 1] ?? 0),
    };
  }

  /** As the checker has it; what follows the last item is a gap, or nothing. */
  private rests(trailing: number, last: number, next: number, tokens: readonly number[]): boolean {
    const known = this.log.tokens;
    if (known.paused[last] === true) return true;
    const settle = this.log.scope.game.settle ?? 0;
    let neutral = trailing;
    for (let at = next, any = trailing > 0; ; at++, any = true) {
      if (any && neutral >= settle) return true;
      const id = tokens[at];
      if (id === undefined) return true;
      const frames = known.neutral[id] ?? -1;
      if (frames < 0) return false;
      neutral += frames;
    }
  }
}

interface Match {
  readonly outcomes: readonly Outcome[] | undefined;
  readonly length: number;
  /** Whether a row goes on behind the last item. */
  readonly isOpen: boolean;
}

function bestFirst(outcomes: readonly Outcome[]): readonly Outcome[] {
  if (outcomes.length < 2) return outcomes;
  const [best] = likeliest(outcomes);
  return best === undefined ? outcomes : [best, ...outcomes.filter((each) => each !== best)];
}

function add(into: Member[], member: Member): void {
  const same = into.some(
    ({ place, tail }) =>
      place === member.place &&
      tail.length === member.tail.length &&
      tail.every((id, i) => id === member.tail[i]),
  );
  if (!same) into.push(member);
}
