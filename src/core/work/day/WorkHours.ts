import { PlanError } from '../../errors.ts';
import type { DayPlan } from '../../plan/PlanDocument.ts';

/** Minutes in a day; the shop's clock is plain, without summer time: a step at night is none that anybody stands at. */
export const DAY_MIN = 24 * 60;

/** Days are then counted from a Monday: own choice, the longest run of days without a weekend. */
const MONDAY = 1;
const SATURDAY = 6;
const SUNDAY = 0;

/** When somebody may be at work. Times are minutes after midnight of the first day. */
export class WorkHours {
  readonly fromMin: number;
  readonly toMin: number;
  private readonly weekends: boolean;
  private readonly firstWeekday: number;

  /** Throws PlanError 'bad-plan' when the hours end before they begin, or the date is no day of the calendar. */
  constructor(day: Pick<DayPlan, 'startDate' | 'fromMin' | 'toMin' | 'weekends'>) {
    // Whole minutes, and none that lies outside of the hours as given.
    this.fromMin = Math.ceil(day.fromMin);
    this.toMin = Math.floor(day.toMin);
    if (!(this.fromMin >= 0 && this.toMin > this.fromMin && this.toMin <= DAY_MIN)) {
      throw new PlanError(
        'bad-plan',
        `Working hours from ${sayHour(day.fromMin)} to ${sayHour(day.toMin)} leave no time to work: “day.toMin” is the closing hour, in minutes after midnight. Let it come after “day.fromMin”, on the same day.`,
        'day.toMin',
      );
    }
    this.weekends = day.weekends;
    this.firstWeekday = day.startDate === null ? MONDAY : weekdayOf(day.startDate);
  }

  /** Minutes of one working day. */
  get lengthMin(): number {
    return this.toMin - this.fromMin;
  }

  /** Whether anybody works on that day; the first day is 0. */
  isWorked(day: number): boolean {
    if (this.weekends) return true;
    const weekday = (this.firstWeekday + day) % 7;
    return weekday !== SATURDAY && weekday !== SUNDAY;
  }

  /** Whether somebody is at work then; the closing minute itself counts. */
  isOpen(atMin: number): boolean {
    const day = Math.floor(atMin / DAY_MIN);
    const ofDay = atMin - day * DAY_MIN;
    return this.isWorked(day) && ofDay >= this.fromMin && ofDay <= this.toMin;
  }

  /**
   * The soonest minute, not before `soonestMin`, at which a step of so many minutes can begin so that it ends within the
   * same day's hours. A step longer than the day begins with a day and runs past its end.
   */
  fit(soonestMin: number, minutes: number): number {
    for (let day = Math.max(0, Math.floor(soonestMin / DAY_MIN)); ; day++) {
      if (!this.isWorked(day)) continue;
      const openMin = day * DAY_MIN + this.fromMin;
      const startMin = Math.max(openMin, soonestMin);
      if (startMin === openMin || startMin + minutes <= day * DAY_MIN + this.toMin) return startMin;
    }
  }
}

/** 0 for a Sunday. By the calendar alone, whatever zone the machine is in. */
function weekdayOf(date: string): number {
  const at = new Date(`${date}T00:00:00Z`);
  if (!/^\d{4}-\d{2}-\d{2}$/.test(date) || Number.isNaN(at.getTime()) || !at.toISOString().startsWith(date)) {
    throw new PlanError(
      'bad-plan',
      `"${date}" is no day of the calendar. Give one such as "2026-12-01".`,
      'day.startDate',
    );
  }
  return at.getUTCDay();
}

function sayHour(min: number): string {
  if (!Number.isFinite(min)) return 'no hour';
  return `${String(Math.floor(min / 60)).padStart(2, '0')}:${String(Math.floor(min % 60)).padStart(2, '0')}`;
}
