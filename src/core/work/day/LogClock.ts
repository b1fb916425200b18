import type { PlanDocument } from '../../plan/PlanDocument.ts';
import { DAY_MIN, type WorkHours } from './WorkHours.ts';

const MS_PER_MIN = 60_000;

/**
 * Where the log puts the day's clock. The log's times are read as the shop's own clock: the hours and minutes as
 * written. A time in universal time ("...Z") says nothing about them, as a plan knows no time zone, and without a
 * first day no time can be placed.
 */
export class LogClock {
  /** Nothing more can begin before this: the last logged time, or 0. Minutes after midnight of the first day. */
  readonly nowMin: number;
  private readonly openMin: number;

  constructor(
    private readonly plan: Pick<PlanDocument, 'log' | 'day'>,
    hours: WorkHours,
  ) {
    this.openMin = hours.fit(0, 0);
    this.nowMin = Math.max(0, ...plan.log.batches.flatMap(({ at }) => this.minutesOf(at) ?? []));
  }

  /** When the coat was finished by the log; unknown: the first working minute, as if it had just been laid. */
  laidMin(piece: string, coat: number): number {
    const own = this.plan.log.batches.filter((batch) => batch.piece === piece && batch.coat === coat);
    const known = own.flatMap(({ at }) => this.minutesOf(at) ?? []);
    return known.length > 0 && known.length === own.length
      ? Math.max(...known)
      : Math.max(this.openMin, this.nowMin);
  }

  private minutesOf(at: string): number | null {
    const { startDate } = this.plan.day;
    const parts = /^(\d{4}-\d{2}-\d{2})T(\d{2}):(\d{2})(:\d{2}(\.\d+)?)?([+-]\d{2}:\d{2})?$/.exec(at);
    if (startDate === null || parts === null) return null;
    const days =
      (Date.parse(`${parts[1]}T00:00:00Z`) - Date.parse(`${startDate}T00:00:00Z`)) / MS_PER_MIN / DAY_MIN;
    const minutes = Math.round(days) * DAY_MIN + 60 * Number(parts[2]) + Number(parts[3]);
    // A time before the first day belongs to an earlier plan of the work.
    return Number.isFinite(minutes) && minutes >= 0 ? minutes : null;
  }
}
