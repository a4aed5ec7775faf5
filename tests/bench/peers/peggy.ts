import peggy from 'peggy';
import type * as Tree from '@core/syntax/tree.js';

/**
 * The grammar of `let`, `seen` and `route` for Peggy, with actions that build nodes as ours
 * are. White space is part of the sequence rules, so that no look-ahead is repeated for it.
 */
const GRAMMAR = `
{
  const NO_MARKS = [];
  const BARE = { lo: 1, hi: 1, unit: 'frames', written: false };
  function grow(items) {
    const body = [];
    let join = -1;
    for (const item of items) {
      if (item.kind === 'join') join = item.start;
      else if (item.kind === 'claim' || item.kind === 'note') {
        const last = body[body.length - 1];
        if (last.marks === NO_MARKS) last.marks = [item];
        else last.marks.push(item);
      } else {
        item.join = join;
        join = -1;
        body.push(item);
      }
    }
    return body;
  }
}
File = _ all:(@Declaration _)* { return { text: input, units: all }; }
Declaration = declaration:(Let / Seen / Route) {
  return { start: 0, unit: { text: '', declaration, comments: [], problems: [] } };
}
Let = "let" !W _ name:Name _ "=" _ body:Body {
  const last = body[body.length - 1];
  const mark = last.marks[last.marks.length - 1];
  return { kind: 'let', start: offset(), end: mark === undefined ? last.end : mark.end, name, body };
}
Seen = "seen" !W _ "{" _ rows:Row* "}" {
  return { kind: 'seen', start: offset(), end: peg$currPos, rows };
}
Row = row:RowParts _ { return row; }
RowParts = from:Spot _ ":" _ body:Body "->" _ to:Spot count:(_ "x" @Integer)? {
  const counted = count !== null;
  return {
    from, body, to, count: counted ? count : 1, counted, start: offset(), end: peg$currPos,
  };
}
Route = "route" !W _ name:Name _ title:(@String _)? from:(@From _)? to:("to" !W _ @Spot _)? "{" _ body:Body "}" {
  return { kind: 'route', start: offset(), end: peg$currPos, name, title, from, to, body };
}
From = "from" !W _ @("anywhere" / Starts)
Starts = first:Start rest:(_ "," _ @Start)* { return [first, ...rest]; }
Start = spot:Spot { return { spot, weight: 1, end: peg$currPos }; }
Body = items:(@Element _)* { return grow(items); }
Element = Item / Claim / Note / Join
Join = "-" !">" { return { kind: 'join', start: offset() }; }
Claim = "@" name:$W+ { return { kind: 'claim', name, start: offset(), end: peg$currPos }; }
Note = '"' value:$[^"\\n]* '"' { return { kind: 'note', value, start: offset(), end: peg$currPos }; }
Item = item:Core repeat:Repeat? {
  if (repeat !== null) {
    item.repeat = repeat;
    item.end = repeat.end;
  }
  return item;
} / Choose
Repeat = "*" lo:Integer hi:(".." @Integer)? open:"+"? until:(_ "until" !W _ @Spot)? {
  return {
    lo, hi: hi ?? lo, open: open !== null, until: until ?? undefined,
    start: offset(), end: peg$currPos,
  };
}
Core = Press / Wait / Pause / Phrase / Group / Settle
Press = inputs:$[A-Z]+ item:(Held / Counted) {
  item.inputs = inputs;
  item.start = offset();
  return item;
}
Counted = count:Count {
  return {
    kind: 'press', start: 0, end: peg$currPos, join: -1, repeat: undefined,
    marks: NO_MARKS, inputs: '', count,
  };
}
Held = "&(" bodyStart:Here _ body:Body bodyEnd:Here ")" {
  return {
    kind: 'hold', start: 0, end: peg$currPos, join: -1, repeat: undefined,
    marks: NO_MARKS, inputs: '', body, bodyStart, bodyEnd,
  };
}
Wait = "." count:Count {
  return {
    kind: 'wait', start: offset(), end: peg$currPos, join: -1, repeat: undefined,
    marks: NO_MARKS, count,
  };
}
Settle = "~" {
  return {
    kind: 'settle', start: offset(), end: peg$currPos, join: -1, repeat: undefined,
    marks: NO_MARKS,
  };
}
Pause = "[" bodyStart:Here _ body:Body bodyEnd:Here "]" {
  return {
    kind: 'pause', start: offset(), end: peg$currPos, join: -1, repeat: undefined,
    marks: NO_MARKS, body, bodyStart, bodyEnd,
  };
}
Group = "(" bodyStart:Here _ body:Body bodyEnd:Here ")" {
  return {
    kind: 'group', start: offset(), end: peg$currPos, join: -1, repeat: undefined,
    marks: NO_MARKS, body, bodyStart, bodyEnd,
  };
}
Phrase = !Reserved name:$([a-z_] W*) {
  return {
    kind: 'phrase', start: offset(), end: peg$currPos, join: -1, repeat: undefined,
    marks: NO_MARKS, name, nameEnd: peg$currPos,
  };
}
Choose = "choose" !W _ name:Name _ "{" _ ways:(@Way _)* "}" {
  return {
    kind: 'choose', start: offset(), end: peg$currPos, join: -1, repeat: undefined,
    marks: NO_MARKS, name, ways,
  };
}
Way = name:Name _ "{" _ body:Body "}" {
  return { name, body, start: offset(), end: peg$currPos };
}
Reserved = ("let" / "seen" / "route" / "choose" / "until") !W
Count = lo:Integer hi:(".." @Integer)? time:"ms"? {
  return time === null
    ? { lo, hi: hi ?? lo, unit: 'frames', written: true }
    : { lo: lo * 1000, hi: lo * 1000, unit: 'microseconds', written: true };
} / "" { return BARE; }
Here = "" { return offset(); }
Integer = digits:$[0-9]+ { return Number(digits); }
Spot = "@" name:$W+ { return { name, start: offset(), end: peg$currPos }; }
Name = name:$([a-z_] W*) { return { name, start: offset(), end: peg$currPos }; }
String = '"' value:$[^"\\n]* '"' { return { value, start: offset(), end: peg$currPos }; }
W = [a-zA-Z0-9_]
_ = ([ \\t\\r\\n]+ / "#" [^\\n]*)*
`;

const parser = peggy.generate(GRAMMAR, { format: 'bare' });

/** Its units have no text and no comments of their own: less to do than ours. */
export function parseByPeggy(text: string): Tree.Tree {
  return parser.parse(text) as Tree.Tree;
}
