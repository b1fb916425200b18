import type { UnitSystem } from '../../core/units.ts';
import { sayClock, sayDay } from '../../report/sayClock.ts';

/** When something was, seen from now, on the clock of this place: "today, 14:05", "yesterday, 8:40 am", "Tue 1 Dec 2026". */
export function sayWhen(at: Date, now: Date, system: UnitSystem): string {
  const minutes = at.getHours() * 60 + at.getMinutes();
  const daysAgo = dayNumber(now) - dayNumber(at);
  if (daysAgo === 0) return `today, ${sayClock(minutes, system)}`;
  if (daysAgo === 1) return `yesterday, ${sayClock(minutes, system)}`;
  const date = new Date(dayNumber(at) * MS_PER_DAY).toISOString().slice(0, 10);
  return `${sayDay(0, date, system)}${system === 'us' ? ', ' : ' '}${at.getFullYear()}`;
}

const MS_PER_DAY = 86_400_000;

/** Days of the calendar of this place, counted in universal time so that no change of the clocks makes a day longer. */
function dayNumber(at: Date): number {
  return Date.UTC(at.getFullYear(), at.getMonth(), at.getDate()) / MS_PER_DAY;
}
