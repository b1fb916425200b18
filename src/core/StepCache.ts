/**
 * Remembers the last values of each step of a plan by what the step read, so that a change runs only what depends on it.
 * A step's key must name everything it reads, its forerunners' keys among it;
 * what the keys do not name, the mesh above all, must be the same for the life of the cache.
 */
export class StepCache {
  private readonly kept = new Map<string, { key: string; value: unknown }[]>();

  /** @param depth values kept a step: two, so that an undo finds the state before. */
  constructor(private readonly depth = 2) {}

  /** The remembered value for this key, or the made one. A failed or cancelled `make` leaves nothing behind. */
  async remember<T>(step: string, key: string, make: () => Promise<T> | T): Promise<T> {
    const list = this.kept.get(step) ?? [];
    const at = list.findIndex((entry) => entry.key === key);
    if (at >= 0) {
      const [entry] = list.splice(at, 1);
      list.unshift(entry);
      return entry.value as T;
    }
    const value = await make();
    list.unshift({ key, value });
    list.length = Math.min(list.length, this.depth);
    this.kept.set(step, list);
    return value;
  }

  has(step: string, key: string): boolean {
    return this.kept.get(step)?.some((entry) => entry.key === key) ?? false;
  }

  clear(): void {
    this.kept.clear();
  }
}
