import { PlanError } from '../../core/errors.ts';
import type { PlanResult, TaskResult } from '../../core/PlanResult.ts';
import type { PlanDocument } from '../../core/plan/PlanDocument.ts';
import type { UnitSystem } from '../../core/units.ts';
import { DAY_MIN, WorkHours } from '../../core/work/day/WorkHours.ts';
import { contentLine, escapeText } from './contentLine.ts';
import { describeStep } from './describeStep.ts';

const MS_PER_MIN = 60_000;

export interface CalendarOptions {
  /** The first day, "2026-12-01". */
  readonly startDate: string;
  /** When the file is written. */
  readonly nowUtc: Date;
  /** Of the words for people; grams stay grams. Metric when left out. */
  readonly units?: UnitSystem;
}

/**
 * The schedule as an iCalendar file (RFC 5545): one event a step, lines ended by CR LF and folded at 75 octets.
 *
 * Times are "floating": clock and date without a zone. They are the shop's own clock, and mean the same on any machine there; a
 * plan knows no time zone, and a time in universal time would shift with the zone of whoever makes the file. An hour that
 * summer time takes or gives at night is not counted.
 * A step that takes hands has an alarm at its beginning, and the time is shown as busy. The end of a wait has one as
 * well, unless a step that waited for it begins at that minute and says so itself, or nobody is at work then. The
 * same step of the same job (its name, its shop, its scan) keeps its UID, so that a newer file moves the events that
 * an older one made.
 *
 * Throws PlanError 'bad-plan' when the date is no day of the calendar, or when the schedule was laid out for another
 * first day and would have somebody at work on a day off.
 */
export function writeCalendar(plan: PlanDocument, result: PlanResult, options: CalendarOptions): string {
  const { startDate, nowUtc, units = 'metric' } = options;
  const hours = new WorkHours({ ...plan.day, startDate });
  expectWorkedDays(result.schedule, hours, startDate);
  const job = jobCode(plan);
  const stamp = `${writeTime(nowUtc.getTime())}Z`;
  const firstMs = Date.parse(`${startDate}T00:00:00Z`);
  const events = result.schedule.flatMap((task, n) => [
    contentLine('BEGIN', 'VEVENT'),
    contentLine('UID', escapeText(`${task.id}.${job}@scute`)),
    contentLine('DTSTAMP', stamp),
    contentLine('DTSTART', writeTime(firstMs + task.startMin * MS_PER_MIN)),
    contentLine('DTEND', writeTime(firstMs + task.endMin * MS_PER_MIN)),
    contentLine('SUMMARY', escapeText(task.what)),
    contentLine('DESCRIPTION', escapeText(describeStep(task, n === 0, plan, result, startDate, units))),
    ...(plan.job.shop === '' ? [] : [contentLine('LOCATION', escapeText(plan.job.shop))]),
    contentLine('TRANSP', task.attended ? 'OPAQUE' : 'TRANSPARENT'),
    ...alarmOf(task, result.schedule, hours),
    contentLine('END', 'VEVENT'),
  ]);
  return [
    contentLine('BEGIN', 'VCALENDAR'),
    contentLine('VERSION', '2.0'),
    contentLine('PRODID', '-//scute//day plan//EN'),
    contentLine('CALSCALE', 'GREGORIAN'),
    ...events,
    contentLine('END', 'VCALENDAR'),
  ].join('');
}

function alarmOf(task: TaskResult, schedule: readonly TaskResult[], hours: WorkHours): string[] {
  if (task.attended) return alarm('TRIGGER', `Now: ${task.what}`);
  const isSaid = schedule.some(
    (other) => other.attended && other.after.includes(task.id) && other.startMin === task.endMin,
  );
  if (isSaid || !hours.isOpen(task.endMin)) return [];
  return alarm('TRIGGER;RELATED=END', `Over: ${task.what}`);
}

/** At the very minute. */
function alarm(trigger: string, text: string): string[] {
  return [
    contentLine('BEGIN', 'VALARM'),
    contentLine('ACTION', 'DISPLAY'),
    contentLine(trigger, 'PT0S'),
    contentLine('DESCRIPTION', escapeText(text)),
    contentLine('END', 'VALARM'),
  ];
}

/** A schedule without a date counts its days from a Monday; on the date that it gets, a weekend may fall elsewhere. */
function expectWorkedDays(schedule: readonly TaskResult[], hours: WorkHours, startDate: string): void {
  const off = schedule.find((task) => task.attended && !hours.isWorked(Math.floor(task.startMin / DAY_MIN)));
  if (off === undefined) return;
  throw new PlanError(
    'bad-plan',
    `With ${startDate} as the first day, “${off.what}” would fall on a Saturday or Sunday. Set the first day in the plan, so that the day is laid out for it, or let weekends be worked.`,
    'day.startDate',
  );
}

/**
 * "20261201T083000" of an instant, read in universal time: for floating times the instant is made from clock and date
 * alike.
 */
function writeTime(atMs: number): string {
  return new Date(atMs).toISOString().slice(0, 19).replaceAll(/[-:]/g, '');
}

/**
 * Eight hexadecimal digits that stay the same for a job. FNV-1a of 32 bits (G. Fowler, L. C. Noll, K.-P. Vo; from
 * memory), over UTF-16 units instead of octets.
 */
function jobCode({ job, scan }: PlanDocument): string {
  let hash = 0x811c9dc5;
  const text = [job.name, job.shop, scan.file].join('\n');
  for (let n = 0; n < text.length; n++) {
    hash = Math.imul(hash ^ text.charCodeAt(n), 0x01000193);
  }
  return (hash >>> 0).toString(16).padStart(8, '0');
}
