/**
 * How well what was typed fits a name, whatever the case of its letters: 0 where it is the name,
 * more the worse; undefined where its letters are not in the name in that order. A beginning
 * comes before the beginning of a later word (`_`, a digit or a space parts words), that before a
 * piece from elsewhere, and that before scattered letters; among equals the shorter name is better.
 */
export function misfit(typed: string, name: string): number | undefined {
  if (typed === name) return 0;
  return misfitLow(typed.toLowerCase(), name.toLowerCase());
}

/** The same for a query and a name in small letters. */
export function misfitLow(wanted: string, known: string): number | undefined {
  const longer = Math.min(known.length, 255) / 256;
  if (known.startsWith(wanted)) return 1 + longer;
  const piece = known.indexOf(wanted);
  if (piece > 0) {
    for (let at = piece; at > 0; at = known.indexOf(wanted, at + 1)) {
      if (beginsWord(known, at)) return 2 + longer;
    }
    return 3 + longer;
  }
  let at = -1;
  let gaps = 0;
  for (const letter of wanted) {
    const next = known.indexOf(letter, at + 1);
    if (next < 0) return undefined;
    if (next > at + 1 && !beginsWord(known, next)) gaps++;
    at = next + letter.length - 1;
  }
  return 4 + gaps + longer;
}

function beginsWord(name: string, at: number): boolean {
  return at === 0 || !/[\p{L}\p{M}]/u.test(name.charAt(at - 1));
}
