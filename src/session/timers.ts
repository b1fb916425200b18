/** A countdown on the page. It is kept as the instant at which it ends, so that it runs on through a reload. */
export interface Timer {
  /**
   * Of what it times, its job in front (`timerId`); starting another under the same id takes this one's place. Those of
   * earlier versions name no job: they run down and ring, but no step knows them as its own.
   */
  readonly id: string;
  /** What is over when it ends, for people: "A, Build, batch 2: working time". */
  readonly label: string;
  /** Instants, ms since 1970, by this machine's clock. */
  readonly startMs: number;
  readonly endMs: number;
}

/** A timer that ended longer ago than this belongs to a day that is over, ms: an own choice, a day and a half. */
const FORGET_AFTER_MS = 36 * 3_600_000;

/** No wait of this work is longer, ms: a fortnight. Beyond it a kept value is damaged. An own choice. */
const LONGEST_MS = 14 * 24 * 3_600_000;

/** The id of what is timed in a job: jobs do not share timers. */
export function timerId(job: string, what: string): string {
  return `${job}: ${what}`;
}

/** The timers of one job under its new key, or `isMoved` false under both. */
export function carryTimers(
  timers: readonly Timer[],
  from: string,
  to: string,
  isMoved: boolean,
): readonly Timer[] {
  const front = timerId(from, '');
  const own = timers.filter(({ id }) => id.startsWith(front));
  if (own.length === 0 || from === to) return timers;
  const carried = own.map((timer) => ({ ...timer, id: timerId(to, timer.id.slice(front.length)) }));
  const taken = new Set(carried.map(({ id }) => id));
  const others = timers.filter((timer) => !taken.has(timer.id) && !(isMoved && own.includes(timer)));
  return [...others, ...carried].toSorted((a, b) => a.endMs - b.endMs);
}

/** The timers with one of `minutes` begun at `nowMs`, which takes the place of an earlier one under its id; soonest first. */
export function startTimer(
  timers: readonly Timer[],
  start: { readonly id: string; readonly label: string; readonly minutes: number },
  nowMs: number,
): readonly Timer[] {
  if (!(start.minutes > 0)) return stopTimer(timers, start.id);
  const timer: Timer = {
    id: start.id,
    label: start.label,
    startMs: nowMs,
    endMs: nowMs + start.minutes * 60_000,
  };
  return [...timers.filter(({ id }) => id !== start.id), timer].toSorted((a, b) => a.endMs - b.endMs);
}

/** The timers without the one under this id. */
export function stopTimer(timers: readonly Timer[], id: string): readonly Timer[] {
  return timers.filter((timer) => timer.id !== id);
}

/** With `minutes` more on one of them; one that is over runs on from `nowMs`. */
export function lengthenTimer(
  timers: readonly Timer[],
  id: string,
  minutes: number,
  nowMs: number,
): readonly Timer[] {
  const timer = timers.find((one) => one.id === id);
  if (!timer) return timers;
  const { label, startMs, endMs } = timer;
  const wholeMin = (Math.max(endMs, nowMs) - startMs) / 60_000 + minutes;
  return startTimer(timers, { id, label, minutes: wholeMin }, startMs);
}

/** The timers that ended after `sinceMs` and by `nowMs`: those to ring for, also when the machine slept in between. */
export function timersDue(timers: readonly Timer[], sinceMs: number, nowMs: number): readonly Timer[] {
  return timers.filter(({ endMs }) => endMs > sinceMs && endMs <= nowMs);
}

/** Whatever an earlier visit kept, without what is odd or long over; soonest first. Never throws. */
export function readTimers(stored: unknown, nowMs: number): readonly Timer[] {
  if (!Array.isArray(stored)) return [];
  const timers: Timer[] = [];
  for (const entry of stored) {
    if (typeof entry !== 'object' || entry === null) continue;
    const { id, label, startMs, endMs } = entry as Record<string, unknown>;
    if (typeof id !== 'string' || typeof label !== 'string') continue;
    if (typeof startMs !== 'number' || typeof endMs !== 'number') continue;
    const isSound = endMs > startMs && endMs - startMs <= LONGEST_MS && endMs > nowMs - FORGET_AFTER_MS;
    if (isSound && !timers.some((timer) => timer.id === id)) timers.push({ id, label, startMs, endMs });
  }
  return timers.toSorted((a, b) => a.endMs - b.endMs);
}
