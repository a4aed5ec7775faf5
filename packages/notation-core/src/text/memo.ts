/**
 * Something worked out once for each object, kept on the object itself where nothing that lists,
 * copies or prints it looks. A WeakMap does the same, but a collector of young objects keeps the
 * values of an old one until the next full collection: whole trees, where a value refers to one.
 */
export class Memo<K extends object, V> {
  private readonly key = Symbol();

  get(of: K): V | undefined {
    return (of as Readonly<Record<symbol, V | undefined>>)[this.key];
  }

  set(of: K, value: V): void {
    Object.defineProperty(of, this.key, { value, configurable: true, writable: true });
  }
}
