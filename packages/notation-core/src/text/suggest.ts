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
    const distance = editDistance(wanted, name.toLowerCase());
    if (distance < least) {
      least = distance;
      best = name;
    }
  }
  return best;
}

function editDistance(a: string, b: string): number {
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let least = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        least = Math.min(least, (before[j - 2] ?? 0) + 1);
      }
      row.push(least);
    }
    before = last;
    last = row;
  }
  return last[b.length] ?? 0;
}
