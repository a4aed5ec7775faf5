import type { Item, Unit } from '../syntax/tree.js';
import type { Leaf, Sequence, Source, Step, WindowPart } from '../model/steps.js';
import type { Tokens } from './tokens.js';

/** What a token says, read back from its key. */
export type Said =
  | { readonly kind: 'press'; readonly held: number; readonly frames: number }
  | { readonly kind: 'wait'; readonly frames: number }
  | { readonly kind: 'settle' | 'open' | 'close' | 'end' }
  | { readonly kind: 'hold'; readonly held: number }
  | { readonly kind: 'window'; readonly parts: readonly { held: number; frames: number }[] };

export function saidBy(tokens: Tokens, id: number): Said {
  // What stands inside a hold is marked with it; the hold itself is a token of its own.
  const key = (tokens.keys[id] ?? '').replace(/^[0-9]+&\|/, '');
  if (key === '~') return { kind: 'settle' };
  if (key === '[') return { kind: 'open' };
  if (key === ']') return { kind: 'close' };
  if (key === ')') return { kind: 'end' };
  if (key.startsWith('.')) return { kind: 'wait', frames: Number(key.slice(1)) };
  if (key.endsWith('&(')) return { kind: 'hold', held: Number(key.slice(0, -2)) };
  if (key.startsWith('[')) {
    return { kind: 'window', parts: key.slice(1, -1).split('-').map(heldFrames) };
  }
  return { kind: 'press', ...heldFrames(key) };
}

function heldFrames(key: string): { held: number; frames: number } {
  const [held, frames] = key.split('*');
  return { held: Number(held), frames: Number(frames) };
}

const NOWHERE: Source = {
  unit: { text: '', declaration: { kind: 'broken', start: 0, end: 0 }, comments: [], problems: [] } satisfies Unit,
  item: { kind: 'mark', start: 0, end: 0, join: -1, repeat: undefined, marks: [] } satisfies Item,
}; // prettier-ignore

/** Whether a token is a wait, free or inside a hold. */
export function isWaiting(tokens: Tokens, id: number | undefined): boolean {
  if (id === undefined) return false;
  const { kind } = saidBy(tokens, id);
  return kind === 'wait' || kind === 'settle';
}

/** Tokens as steps, so that a timeline can be built of what nobody has written yet. */
export function stepsOf(tokens: Tokens, ids: readonly number[]): Sequence {
  interface Open {
    readonly steps: Step[];
    readonly held: number;
  }
  const stack: Open[] = [{ steps: [], held: 0 }];
  let first: Leaf | undefined;
  let last: Leaf | undefined;
  const leaf = (step: Leaf): void => {
    first ??= step;
    last = step;
    stack[stack.length - 1]?.steps.push(step);
  };
  const source = NOWHERE;
  for (const id of ids) {
    const said = saidBy(tokens, id);
    switch (said.kind) {
      case 'press':
        leaf({ kind: 'press', held: said.held, lo: said.frames, hi: said.frames, source });
        break;
      case 'wait':
        leaf({ kind: 'wait', lo: said.frames, hi: said.frames, written: true, source });
        break;
      case 'settle':
        leaf({ kind: 'settle', written: true, source });
        break;
      case 'open':
      case 'close':
        leaf({ kind: said.kind, source });
        break;
      case 'window': {
        const parts = said.parts.map(({ held, frames }): WindowPart => ({
          held,
          lo: frames,
          hi: frames,
          source,
        }));
        leaf({ kind: 'window', parts, source });
        break;
      }
      case 'hold':
        stack.push({ steps: [], held: said.held });
        break;
      case 'end': {
        const done = stack.length > 1 ? stack.pop() : undefined;
        if (done === undefined) break;
        const body: Sequence = { steps: done.steps, ...edges(done.steps) };
        stack[stack.length - 1]?.steps.push({ kind: 'hold', held: done.held, body, source });
        break;
      }
    }
  }
  return { steps: stack[0]?.steps ?? [], first, last };
}

function edges(steps: readonly Step[]): { first: Leaf | undefined; last: Leaf | undefined } {
  const edge = (step: Step | undefined, which: 'first' | 'last'): Leaf | undefined => {
    if (step === undefined || step.kind === 'claim') return undefined;
    if (step.kind === 'hold' || step.kind === 'group' || step.kind === 'repeat') {
      return step.body[which];
    }
    return step;
  };
  return { first: edge(steps[0], 'first'), last: edge(steps[steps.length - 1], 'last') };
}
