import { URI } from 'vscode-uri';

/**
 * Paths of the program and URIs of the protocol. A file of this machine goes by its plain path
 * (`/notes/a b.tiptoe`, `c:/notes/a.tiptoe`), so that findings name files as the command line does;
 * anything else by its URI without escapes (`memfs://store/notes/a b.tiptoe`, `untitled:Untitled-1`).
 */
export function pathOf(uri: string): string {
  const { scheme, authority, path } = URI.parse(uri);
  if (scheme === 'file' && authority === '') {
    return /^\/[A-Za-z]:/.test(path) ? (path[1] ?? '').toLowerCase() + path.slice(2) : path;
  }
  if (authority === '' && !path.startsWith('/')) return `${scheme}:${path}`;
  return `${scheme}://${authority}${path}`;
}

export function uriOf(path: string): string {
  if (path.startsWith('/')) return URI.from({ scheme: 'file', path }).toString();
  if (/^[A-Za-z]:\//.test(path)) return URI.from({ scheme: 'file', path: `/${path}` }).toString();
  const [, scheme = 'file', authority, rest = ''] =
    /^([A-Za-z][\w+.-]*):(?:\/\/([^/]*))?(.*)$/s.exec(path) ?? [];
  return URI.from({ scheme, path: rest, ...(authority === undefined ? {} : { authority }) }).toString(); // prettier-ignore
}

/** Whether a path lies in a folder, at any depth. */
export function isInside(path: string, folder: string): boolean {
  return path.startsWith(folder.endsWith('/') ? folder : `${folder}/`);
}

/** The folder of a file, without a slash at its end; '' where there is none. */
export function folderOf(path: string): string {
  return path.slice(0, Math.max(0, path.lastIndexOf('/')));
}
