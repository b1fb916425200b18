/** How long a job goes on, as far as its own progress tells. Made anew by each report; `START_OF_JOB` before the first. */
export interface TimeLeft {
  readonly startMs: number | null;
  /** 0 to 1, of the latest report. */
  readonly fraction: number;
  /** Of the latest report, by the same clock as `startMs`. */
  readonly atMs: number;
  /** Smoothed; null until enough of the job is seen. */
  readonly leftMs: number | null;
}

export const START_OF_JOB: TimeLeft = { startMs: null, fraction: 0, atMs: 0, leftMs: null };

/** Nothing is claimed from less than this, ms and share of the job: the first steps are the least like the rest. */
const SEEN_MS = 300;
const SEEN_FRACTION = 0.04;

/** How fast the shown time follows what the latest report says, ms: a phase that runs at another pace is believed after about as long. */
const FOLLOW_MS = 1500;

/** It never rises faster than this, ms a ms: a person who reads "4 s" may find "6 s" two seconds later, not "40 s". */
const RISE = 1;

/** Less than this is not worth a word, ms. */
const SILENT_MS = 1000;

/**
 * What is left of the job after a report. A fraction below the last one is another job. The plain estimate is the time so far,
 * shared out by the fraction; the shown one runs down with the clock and moves towards it smoothly (own).
 */
export function noteProgress(before: TimeLeft, fraction: number, nowMs: number): TimeLeft {
  if (before.startMs === null || fraction < before.fraction) {
    return { startMs: nowMs, fraction, atMs: nowMs, leftMs: null };
  }
  const { startMs } = before;
  const seenMs = nowMs - startMs;
  const next = { startMs, fraction, atMs: nowMs };
  if (fraction >= 1) return { ...next, leftMs: 0 };
  if (seenMs < SEEN_MS || fraction < SEEN_FRACTION) return { ...next, leftMs: null };
  const plainMs = (seenMs * (1 - fraction)) / fraction;
  if (before.leftMs === null) return { ...next, leftMs: plainMs };
  const stepMs = Math.max(0, nowMs - before.atMs);
  const runDownMs = Math.max(0, before.leftMs - stepMs);
  const share = 1 - Math.exp(-stepMs / FOLLOW_MS);
  const wantedMs = runDownMs + share * (plainMs - runDownMs);
  return { ...next, leftMs: Math.min(wantedMs, before.leftMs + RISE * stepMs) };
}

/** "about 4 s", "about 25 s", "about 3 min"; '' under a second and while nothing is known. */
export function sayTimeLeft({ leftMs }: TimeLeft): string {
  if (leftMs === null || leftMs < SILENT_MS) return '';
  const seconds = leftMs / 1000;
  if (seconds < 10) return `about ${Math.round(seconds)} s`;
  const fives = Math.round(seconds / 5) * 5;
  if (fives < 60) return `about ${fives} s`;
  return `about ${Math.round(seconds / 60)} min`;
}
