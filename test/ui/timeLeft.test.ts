import { describe, expect, it } from 'vitest';
import { noteProgress, START_OF_JOB, sayTimeLeft, type TimeLeft } from '../../src/ui/control/timeLeft.ts';

/** Reports every `stepMs` of a job whose fraction at a time is `at`. */
function follow(at: (ms: number) => number, untilMs: number, stepMs = 50): TimeLeft[] {
  const seen: TimeLeft[] = [];
  let left = START_OF_JOB;
  for (let ms = 0; ms <= untilMs; ms += stepMs) {
    left = noteProgress(left, at(ms), 1000 + ms);
    seen.push(left);
  }
  return seen;
}

describe('time left of a job', () => {
  it('is exact for a job that goes evenly: 10 s, seen at 2, 5 and 9 s', () => {
    const seen = follow((ms) => ms / 10_000, 9000);
    for (const [index, leftMs] of [
      [40, 8000],
      [100, 5000],
      [180, 1000],
    ]) {
      expect(seen[index].leftMs).toBeCloseTo(leftMs, 6);
    }
  });

  it('says nothing of the first moments, which are the least like the rest', () => {
    expect(follow((ms) => ms / 10_000, 250).every(({ leftMs }) => leftMs === null)).toBe(true);
    expect(follow((ms) => ms / 100_000, 3000).every(({ leftMs }) => leftMs === null)).toBe(true);
  });

  it('rises no faster than the clock when a phase turns out ten times slower, and is believed in the end', () => {
    // Half of the job in a second, the rest in ten (own arithmetic).
    const at = (ms: number) => (ms < 1000 ? ms / 2000 : 0.5 + (ms - 1000) / 20_000);
    const seen = follow(at, 10_500);
    for (let i = 1; i < seen.length; i++) {
      const [a, b] = [seen[i - 1], seen[i]];
      if (a.leftMs === null || b.leftMs === null) continue;
      expect(b.leftMs - a.leftMs).toBeLessThanOrEqual(b.atMs - a.atMs + 1e-9);
    }
    // The plain estimate at 10 s is 10 * 0.05 / 0.95 s.
    expect(seen[200].leftMs ?? Number.NaN).toBeGreaterThan(0);
    expect(Math.abs((seen[200].leftMs ?? Number.NaN) - (10_000 * 0.05) / 0.95)).toBeLessThan(1500);
  });

  it('falls back without a jump below nothing when a phase turns out faster', () => {
    const at = (ms: number) => (ms < 4000 ? ms / 20_000 : Math.min(1, 0.2 + (ms - 4000) / 1250));
    for (const { leftMs } of follow(at, 5000)) expect(leftMs ?? 0).toBeGreaterThanOrEqual(0);
  });

  it('begins anew when the fraction falls back', () => {
    const done = follow((ms) => ms / 2000, 1900).at(-1) as TimeLeft;
    const next = noteProgress(done, 0.01, 5000);
    expect(next).toEqual({ startMs: 5000, fraction: 0.01, atMs: 5000, leftMs: null });
  });

  it('is written in words a person would use', () => {
    const say = (leftMs: number | null) => sayTimeLeft({ ...START_OF_JOB, leftMs });
    expect([null, 0, 999, 1000, 4400, 9600, 12_300, 56_000, 58_000, 185_000].map(say)).toEqual([
      '',
      '',
      '',
      'about 1 s',
      'about 4 s',
      'about 10 s',
      'about 10 s',
      'about 55 s',
      'about 1 min',
      'about 3 min',
    ]);
  });
});
