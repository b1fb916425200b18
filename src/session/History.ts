/** Entries kept; far more than anyone steps back, small because an entry is a few kilobytes of plain JSON. */
const ENTRY_LIMIT = 200;

/**
 * Undo and redo over an immutable value. Every `commit` is one entry, except that commits carrying the same gesture
 * (a drag, a slider held down) replace each other, so that one drag is one entry.
 */
export class History<T> {
  private past: T[] = [];
  private future: T[] = [];
  private gesture: string | null = null;

  constructor(private value: T) {}

  get present(): T {
    return this.value;
  }

  get canUndo(): boolean {
    return this.past.length > 0;
  }

  get canRedo(): boolean {
    return this.future.length > 0;
  }

  /** Makes `next` the present. True when this began a new entry, false when it went on with the same gesture. */
  commit(next: T, gesture: string | null = null): boolean {
    const goesOn = gesture !== null && gesture === this.gesture;
    if (!goesOn) {
      this.past.push(this.value);
      if (this.past.length > ENTRY_LIMIT) this.past.shift();
    }
    this.future = [];
    this.gesture = gesture;
    this.value = next;
    return !goesOn;
  }

  /** The drag is over: the next commit is an entry of its own even when it carries the same gesture. */
  endGesture(): void {
    this.gesture = null;
  }

  /** Steps back; false when there is nothing to step back to. */
  undo(): boolean {
    const before = this.past.pop();
    if (before === undefined) return false;
    this.future.push(this.value);
    this.value = before;
    this.gesture = null;
    return true;
  }

  redo(): boolean {
    const after = this.future.pop();
    if (after === undefined) return false;
    this.past.push(this.value);
    this.value = after;
    this.gesture = null;
    return true;
  }

  /** Starts afresh from `value`; what came before is forgotten, as when another scan is opened. */
  reset(value: T): void {
    this.past = [];
    this.future = [];
    this.gesture = null;
    this.value = value;
  }
}
