import type { WorkHours } from './WorkHours.ts';

/** Which hands are taken when. People are alike: only how many are at work at a time is kept; who it is comes last. */
export class HandsInUse {
  private readonly startsMin: number[] = [];
  private readonly endsMin: number[] = [];
  private readonly counts: number[] = [];

  constructor(
    readonly hands: number,
    private readonly hours: WorkHours,
  ) {}

  /** What `rollBack` takes to forget all that is taken from now on. */
  mark(): number {
    return this.counts.length;
  }

  rollBack(mark: number): void {
    this.startsMin.length = mark;
    this.endsMin.length = mark;
    this.counts.length = mark;
  }

  take(startMin: number, minutes: number, count: number): void {
    this.startsMin.push(startMin);
    this.endsMin.push(startMin + minutes);
    this.counts.push(count);
  }

  /**
   * The soonest start, not before `fromMin`, at which `count` pairs of hands are free for so many minutes within one
   * day's hours. Between two starts tried nothing changes but the end of a step, so none is missed.
   */
  soonest(fromMin: number, minutes: number, count: number): number {
    let startMin = this.hours.fit(fromMin, minutes);
    for (;;) {
      const freeMin = this.nextFree(startMin, minutes, count);
      if (freeMin === startMin) return startMin;
      startMin = this.hours.fit(freeMin, minutes);
    }
  }

  /** `startMin` itself when the hands are free for all that time; else the first end of a step in the way. */
  private nextFree(startMin: number, minutes: number, count: number): number {
    const { startsMin, endsMin, counts } = this;
    const endMin = startMin + minutes;
    let firstEndMin = Number.POSITIVE_INFINITY;
    let isFree = this.usedAt(startMin) + count <= this.hands;
    for (let n = 0; n < counts.length; n++) {
      if (startsMin[n] >= endMin || endsMin[n] <= startMin) continue;
      if (endsMin[n] < firstEndMin) firstEndMin = endsMin[n];
      // How many are at work rises only where a step begins: looking there is enough.
      if (isFree && startsMin[n] > startMin) isFree = this.usedAt(startsMin[n]) + count <= this.hands;
    }
    return isFree ? startMin : firstEndMin;
  }

  private usedAt(atMin: number): number {
    const { startsMin, endsMin, counts } = this;
    let used = 0;
    for (let n = 0; n < counts.length; n++) {
      if (startsMin[n] <= atMin && endsMin[n] > atMin) used += counts[n];
    }
    return used;
  }
}
