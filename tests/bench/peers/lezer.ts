import { buildParser } from '@lezer/generator';
import type { SyntaxNode, Tree } from '@lezer/common';
import type { Visit } from './checksum.js';

/**
 * The grammar of `let`, `seen` and `route` for Lezer, whose own tree is what it is asked for.
 * An item is one node, its repeat in it, as in ours, and signs and words alone are none: Lezer
 * pays for every node.
 */
const GRAMMAR = `
@top File { (Let | Seen | Route)* }
Let { kw<"let"> Name "=" body }
Seen { kw<"seen"> "{" Row* "}" }
Row { Spot ":" body arrow Spot Sightings? }
Route { kw<"route"> Name String? From? To? "{" body "}" }
From { kw<"from"> (kw<"anywhere"> | Spot ("," Spot)*) }
To { kw<"to"> Spot }
Name { word }
body { (item | Claim | Note | Join)* }
item { Press | Wait | Settle | Group | Pause | Hold | Phrase | Choose }
repeated { Repeat Until? }
Press { press repeated? }
Wait { wait repeated? }
Settle { "~" repeated? }
Phrase { word repeated? }
Group { "(" body ")" repeated? }
Pause { "[" body "]" repeated? }
Hold { holdHead "(" body ")" repeated? }
Choose { kw<"choose"> Name "{" Way* "}" }
Way { Name "{" body "}" }
Until { kw<"until"> Spot }
Claim { Spot }
Note { String }
kw<term> { @specialize<word, term> }
@skip { space | Comment }
@tokens {
  digits { @digit+ }
  count { digits ".." digits | digits "ms"? }
  name { ($[a-zA-Z_] | @digit)+ }
  press { $[A-Z]+ count? }
  holdHead { $[A-Z]+ "&" }
  wait { "." count? }
  Repeat { "*" digits (".." digits)? "+"? }
  Spot { "@" name }
  Sightings { "x" digits }
  word { $[a-z_] name? }
  String { '"' ![\\n"]* '"' }
  arrow { "->" }
  Join { "-" }
  Comment { "#" ![\\n]* }
  space { $[ \\t\\n\\r]+ }
  @precedence { holdHead, press }
  @precedence { arrow, Join }
  @precedence { Sightings, word }
}`;

const parser = buildParser(GRAMMAR);

export function parseByLezer(text: string): Tree {
  return parser.parse(text);
}

const KINDS: Readonly<Record<string, string>> = {
  Let: 'let', Seen: 'seen', Route: 'route', Row: 'row', Way: 'way', Claim: 'claim', Note: 'note',
  Press: 'press', Wait: 'wait', Settle: 'settle', Group: 'group', Pause: 'pause', Hold: 'hold',
  Phrase: 'phrase', Choose: 'choose',
}; // prettier-ignore

/** Tells what the tree holds, in the order of the text. */
export function visitLezer(tree: Tree, visit: Visit): void {
  const go = (node: SyntaxNode): void => {
    if (node.type.isError) throw new SyntaxError(`Lezer stumbles at ${node.from}`);
    const kind = KINDS[node.name];
    if (kind !== undefined) visit(kind, node.from, node.to);
    for (let child = node.firstChild; child !== null; child = child.nextSibling) go(child);
  };
  go(tree.topNode);
}
