import type { PlanResult } from './PlanResult.ts';

/** Adds up what each part of the work took, by the names of the result. */
export class StepTimes {
  private readonly startMs = performance.now();
  private readonly sums = { read: 0, repair: 0, field: 0, coats: 0, thin: 0, pieces: 0, undercut: 0 };

  constructor(readMs: number) {
    this.sums.read = readMs;
  }

  async take<T>(name: keyof StepTimes['sums'], work: () => Promise<T>): Promise<T> {
    const from = performance.now();
    try {
      return await work();
    } finally {
      this.sums[name] += performance.now() - from;
    }
  }

  sofar(): PlanResult['timesMs'] {
    return { ...this.sums, total: this.sums.read + performance.now() - this.startMs };
  }
}
