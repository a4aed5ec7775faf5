/**
 * The known name nearest to what was written, for a did-you-mean; undefined where none is
 * near. Near: at most a third of the letters differ (a letter changed, added, dropped or two
 * neighbours swapped: the restricted distance of Damerau, Comm. ACM 7 (1964) 171).
 */
export function nearest(written: string, known: Iterable<string>): string | undefined {
  const wanted = written.toLowerCase();
  let best: string | undefined;
  let least = Math.max(1, Math.floor(written.length / 3)) + 1;
  for (const name of known) {
    if (name === written || Math.abs(name.length - written.length) >= least) continue;
    const distance = editDistance(wanted, name.toLowerCase(), least);
    if (distance < least) {
      least = distance;
      best = name;
    }
  }
  return best;
}

/** The distance of two words; `limit` where it is that much or more. */
function editDistance(a: string, b: string, limit: number): number {
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  let lowest = 0;
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    let low = i;
    for (let j = 1; j <= b.length; j++) {
      const same = a.charCodeAt(i - 1) === b.charCodeAt(j - 1) ? 0 : 1;
      let least = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        least = Math.min(least, (before[j - 2] ?? 0) + 1);
      }
      if (least < low) low = least;
      row.push(least);
    }
    // What comes grows out of these two rows, by nothing at the least.
    if (low >= limit && lowest >= limit) return limit;
    lowest = low;
    before = last;
    last = row;
  }
  return last[b.length] ?? 0;
}
