/** The spans without those that stand in the list before, as files that several projects hold give them. */
export function uniqueSpans<S extends { path: string; start: number; end: number }>(
  spans: readonly S[],
): S[] {
  const seen = new Set<string>();
  return spans.filter(({ path, start, end }) => {
    const key = `${start} ${end} ${path}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
