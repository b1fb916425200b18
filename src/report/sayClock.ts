import type { UnitSystem } from '../core/units.ts';

export { sayMinutes } from '../core/work/day/sayMinutes.ts';

export const MIN_PER_DAY = 24 * 60;

const WEEKDAYS = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'];
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** Clock time of an instant, minutes after midnight of the first day, to the nearest minute: "08:40", "8:40 am". */
export function sayClock(minutes: number, system: UnitSystem): string {
  const ofDay = ((Math.round(minutes) % MIN_PER_DAY) + MIN_PER_DAY) % MIN_PER_DAY;
  const hour = Math.floor(ofDay / 60);
  const rest = String(ofDay % 60).padStart(2, '0');
  if (system === 'metric') return `${String(hour).padStart(2, '0')}:${rest}`;
  return `${hour % 12 === 0 ? 12 : hour % 12}:${rest}\u00a0${hour < 12 ? 'am' : 'pm'}`;
}

/** The day of an instant: "Tue 1 Dec", "Tue, Dec 1" when the first day is fixed; "day 1" when it is not. */
export function sayDay(minutes: number, startDate: string | null, system: UnitSystem): string {
  const day = Math.floor(Math.round(minutes) / MIN_PER_DAY);
  const first = startDate === null ? Number.NaN : Date.parse(`${startDate}T00:00:00Z`);
  if (Number.isNaN(first)) return `day ${day + 1}`;
  // Counted in universal time, so that no change of the clocks moves a day.
  const at = new Date(first + day * MIN_PER_DAY * 60_000);
  const weekday = WEEKDAYS[at.getUTCDay()];
  const month = MONTHS[at.getUTCMonth()];
  return system === 'us'
    ? `${weekday}, ${month} ${at.getUTCDate()}`
    : `${weekday} ${at.getUTCDate()} ${month}`;
}

/** What is left on a countdown: "1:02:09", "12:04"; 0 and less: "0:00". */
export function sayCountdown(leftMs: number): string {
  // Rounded upwards: it shows nought only when it is over.
  const seconds = Math.max(0, Math.ceil(leftMs / 1000));
  const [h, m, s] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  const two = (n: number) => String(n).padStart(2, '0');
  return h > 0 ? `${h}:${two(m)}:${two(s)}` : `${m}:${two(s)}`;
}
