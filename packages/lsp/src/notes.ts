/** What the file of a note ends with. */
const ENDING = '.tiptoe';

export function isNote(path: string): boolean {
  return path.endsWith(ENDING);
}

/** Whether a search of a folder finds a path in it: not in what the command line leaves out. */
export function isSearched(path: string, folder: string): boolean {
  const parts = path.slice(folder.length).split('/').slice(0, -1);
  return parts.every((part) => part === '' || (!part.startsWith('.') && part !== 'node_modules'));
}
