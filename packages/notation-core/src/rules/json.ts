import type { Span } from '../text/span.js';

/**
 * JSON (RFC 8259) with places. `JSON.parse` says neither where a value stands nor, in the same
 * words everywhere, where a text breaks off; a settings file needs both and little else.
 */
export interface JsonNode {
  readonly span: Span;
  /** A text, a number, true, false or null; undefined for an object or an array. */
  readonly value: string | number | boolean | null | undefined;
  readonly members: readonly JsonMember[] | undefined;
}

export interface JsonMember {
  readonly key: string;
  readonly at: Span;
  readonly value: JsonNode;
}

export type JsonResult =
  | { readonly ok: true; readonly node: JsonNode }
  | { readonly ok: false; readonly span: Span; readonly reason: string };

/** Deeper than any settings; keeps a text of brackets from exhausting the stack. */
const DEPTH = 32;

class Broken extends Error {
  constructor(
    readonly span: Span,
    readonly reason: string,
  ) {
    super(reason);
  }
}

export function readJson(text: string): JsonResult {
  try {
    const reader = new Reader(text);
    return { ok: true, node: reader.document() };
  } catch (error) {
    if (!(error instanceof Broken)) throw error;
    return { ok: false, span: error.span, reason: error.reason };
  }
}

const STRING = /"(?:[^"\\\u0000-\u001f]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/y; // eslint-disable-line no-control-regex -- RFC 8259 section 7 forbids them
const SCALAR = /-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?|true|false|null/y;

class Reader {
  private at = 0;
  constructor(private readonly text: string) {
    if (text.startsWith('\ufeff')) this.at = 1;
  }

  document(): JsonNode {
    const node = this.value(0);
    this.blank();
    if (this.at < this.text.length) this.fail('something stands behind the end');
    return node;
  }

  private fail(reason: string): never {
    throw new Broken({ start: this.at, end: Math.min(this.at + 1, this.text.length) }, reason);
  }

  private blank(): void {
    while (' \t\r\n'.includes(this.text.charAt(this.at)) && this.at < this.text.length) this.at++;
  }

  private taken(sign: string): boolean {
    this.blank();
    if (this.text.charAt(this.at) !== sign) return false;
    this.at++;
    return true;
  }

  private match(pattern: RegExp): string | undefined {
    pattern.lastIndex = this.at;
    const found = pattern.exec(this.text)?.[0];
    this.at += found?.length ?? 0;
    return found;
  }

  private value(depth: number): JsonNode {
    this.blank();
    const start = this.at;
    if (depth > DEPTH) this.fail('brackets stand too deep inside brackets');
    if (this.taken('{')) return this.object(start, depth);
    if (this.taken('[')) return this.array(start, depth);
    const scalar = this.match(STRING) ?? this.match(SCALAR);
    if (scalar === undefined)
      this.fail(start < this.text.length ? 'no value can begin here' : 'it ends too soon');
    const value = JSON.parse(scalar) as string | number | boolean | null;
    return { span: { start, end: this.at }, value, members: undefined };
  }

  private object(start: number, depth: number): JsonNode {
    const members: JsonMember[] = [];
    if (!this.taken('}')) {
      do {
        this.blank();
        const from = this.at;
        const key = this.match(STRING);
        if (key === undefined) this.fail('a name in double quotes is missing');
        const at = { start: from, end: this.at };
        if (!this.taken(':')) this.fail('a colon is missing');
        members.push({ key: JSON.parse(key) as string, at, value: this.value(depth + 1) });
      } while (this.taken(','));
      if (!this.taken('}')) this.fail('a comma or } is missing');
    }
    return { span: { start, end: this.at }, value: undefined, members };
  }

  private array(start: number, depth: number): JsonNode {
    if (!this.taken(']')) {
      do this.value(depth + 1);
      while (this.taken(','));
      if (!this.taken(']')) this.fail('a comma or ] is missing');
    }
    return { span: { start, end: this.at }, value: undefined, members: undefined };
  }
}
