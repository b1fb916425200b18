/** Numbers gathered one by one without knowing how many there will be, in a typed array that grows by half. */
export class GrowingList<T extends Float64Array | Uint32Array> {
  length = 0;
  private items: T;

  constructor(private readonly make: (length: number) => T) {
    this.items = make(96);
  }

  push3(a: number, b: number, c: number): void {
    const at = this.length;
    if (at + 3 > this.items.length) {
      const grown = this.make(Math.ceil(1.5 * this.items.length));
      grown.set(this.items);
      this.items = grown;
    }
    this.items[at] = a;
    this.items[at + 1] = b;
    this.items[at + 2] = c;
    this.length = at + 3;
  }

  /** The numbers in an array of their own; the list must not be used afterwards. */
  take(): T {
    return this.items.slice(0, this.length) as T;
  }
}
