import { buildParser } from '@lezer/generator';
import type { SyntaxNode, Tree } from '@lezer/common';
import type { Visit } from './checksum.js';

/** The grammar of `let`, `seen` and `route` for Lezer, whose own tree is what it is asked for. */
const GRAMMAR = `
@top File { (Let | Seen | Route)* }
Let { kw<"let"> Name "=" body }
Seen { kw<"seen"> "{" Row* "}" }
Row { Spot ":" body Arrow Spot Sightings? }
Route { kw<"route"> Name String? From? To? "{" body "}" }
From { kw<"from"> (kw<"anywhere"> | Spot ("," Spot)*) }
To { kw<"to"> Spot }
Name { Word }
body { (Item | Claim | Note | Join)* }
Item { (Press | Wait | Settle | Group | Pause | Hold | Phrase) (Repeat Until?)? | Choose }
Phrase { Word }
Group { "(" body ")" }
Pause { "[" body "]" }
Hold { HoldHead "(" body ")" }
Choose { kw<"choose"> Name "{" Way* "}" }
Way { Name "{" body "}" }
Until { kw<"until"> Spot }
Claim { Spot }
Note { String }
kw<term> { @specialize<Word, term> }
@skip { space | Comment }
@tokens {
  digits { @digit+ }
  count { digits ".." digits | digits "ms"? }
  name { ($[a-zA-Z_] | @digit)+ }
  Press { $[A-Z]+ count? }
  HoldHead { $[A-Z]+ "&" }
  Wait { "." count? }
  Settle { "~" }
  Repeat { "*" digits (".." digits)? "+"? }
  Spot { "@" name }
  Sightings { "x" digits }
  Word { $[a-z_] name? }
  String { '"' ![\\n"]* '"' }
  Arrow { "->" }
  Join { "-" }
  Comment { "#" ![\\n]* }
  space { $[ \\t\\n\\r]+ }
  @precedence { HoldHead, Press }
  @precedence { Arrow, Join }
  @precedence { Sightings, Word }
  "{" "}" "(" ")" "[" "]" ":" "=" ","
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
    // An item has the span of what it is with its repeat.
    const item = node.name === 'Item' ? node.firstChild : node;
    const kind = KINDS[item?.name ?? ''];
    if (kind !== undefined && (node.name === 'Item' || node.parent?.name !== 'Item')) {
      visit(kind, node.from, node.to);
    }
    for (let child = node.firstChild; child !== null; child = child.nextSibling) go(child);
  };
  go(tree.topNode);
}
