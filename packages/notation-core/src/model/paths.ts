/**
 * Paths as plain text with `/` between their parts, so that they mean the same on every system
 * and as the path of a URI.
 */
export function resolvePath(from: string, written: string): string {
  const slash = from.lastIndexOf('/');
  return normalPath((slash < 0 ? '' : from.slice(0, slash + 1)) + written);
}

/** The path without `.`, `..` and doubled slashes as far as its text tells. */
export function normalPath(path: string): string {
  const root = /^([a-z][a-z0-9+.-]+:\/\/[^/]*\/|\/|[A-Za-z]:\/)/.exec(path)?.[0] ?? '';
  const parts: string[] = [];
  for (const part of path.slice(root.length).split('/')) {
    if (part === '' || part === '.') continue;
    if (part === '..' && parts.length > 0 && parts[parts.length - 1] !== '..') parts.pop();
    else if (part !== '..' || root === '') parts.push(part);
  }
  return root + parts.join('/');
}
