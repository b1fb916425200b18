import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { PlanError } from '../../../src/core/errors.ts';
import type { PlanResult } from '../../../src/core/PlanResult.ts';
import type { PlanDocument } from '../../../src/core/plan/PlanDocument.ts';
import { planDay } from '../../../src/core/work/day/planDay.ts';
import { writeCalendar } from '../../../src/report/calendar/writeCalendar.ts';
import { madeUpBatches, madeUpGround, madeUpWork, tradeDay } from '../../core/work/day/madeUpDay.ts';
import { madeUpResult } from '../madeUpResult.ts';

const NOW = new Date('2026-11-25T20:26:56.789Z');
const DATE = '2026-12-01';
const CAUTIONS = [
  { step: 'Release', text: 'Brush it on board, shims; let it dry.' },
  { step: 'Mixing', text: 'Keep powder out of the air.' },
  { step: 'Reinforced coat', text: 'Gloves against glass.' },
  { step: 'Trimming', text: 'Keep the guard on.' },
  { step: 'All steps', text: 'The data sheet wins.' },
];

/** Both halves by the trade's check values, two people, in a result that is made up otherwise. */
function example(change: (plan: PlanDocument) => PlanDocument = (plan) => plan): [PlanDocument, PlanResult] {
  const trade = tradeDay({ startDate: DATE });
  const plan = change({
    ...trade,
    job: { name: 'Fishwife; large', shop: 'Casting, Ltd' },
    bench: { ...trade.bench, hands: 2 },
    material: { ...trade.material, times: { ...trade.material.times, latestOvercoatMin: 1000 } },
  });
  const coatWork = madeUpWork(plan, ['A', 'B']);
  const batches = madeUpBatches(coatWork).map((batch) => ({
    ...batch,
    steps: [
      { item: 'liquid', massG: 650, scale: 'bench scale', say: '' },
      { item: 'powder', massG: 1300, scale: 'bench scale', say: 'sift it in' },
    ],
  }));
  const ground = madeUpGround(['A', 'B'], [['A', 'B']]);
  const { schedule, day } = planDay(plan, coatWork, batches, ground);
  return [plan, { ...madeUpResult(), coatWork, batches, schedule, day, cautions: CAUTIONS }];
}

function read(text: string): ICAL.Event[] {
  return new ICAL.Component(ICAL.parse(text))
    .getAllSubcomponents('vevent')
    .map((event) => new ICAL.Event(event));
}

/** Minutes after midnight of the first day, by the reader's own figures. */
function minutesOf(time: ICAL.Time): number {
  const days = (Date.UTC(time.year, time.month - 1, time.day) - Date.parse(`${DATE}T00:00:00Z`)) / 86_400_000;
  return days * 1440 + time.hour * 60 + time.minute + time.second / 60;
}

/** Minutes at which alarms go off. */
function alarmsOf(events: readonly ICAL.Event[]): number[] {
  return events.flatMap((event) =>
    event.component.getAllSubcomponents('valarm').map((alarm) => {
      const trigger = alarm.getFirstProperty('trigger') as ICAL.Property;
      const from = trigger.getParameter('related') === 'END' ? event.endDate : event.startDate;
      return minutesOf(from) + (trigger.getFirstValue() as ICAL.Duration).toSeconds() / 60;
    }),
  );
}

describe('writeCalendar', () => {
  const [plan, result] = example();
  const text = writeCalendar(plan, result, { startDate: DATE, nowUtc: NOW });
  const events = read(text);

  it('has lines of 75 octets at most, ended by CR LF, and each event’s required properties once', () => {
    expect(text.endsWith('END:VCALENDAR\r\n')).toBe(true);
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    for (const line of text.split('\r\n'))
      expect(new TextEncoder().encode(line).length).toBeLessThanOrEqual(75);
    for (const name of ['version', 'prodid']) {
      expect(new ICAL.Component(ICAL.parse(text)).getAllProperties(name)).toHaveLength(1);
    }
    for (const event of events) {
      for (const name of ['uid', 'dtstamp', 'dtstart', 'dtend', 'summary', 'description']) {
        expect(event.component.getAllProperties(name)).toHaveLength(1);
      }
      expect(event.component.getFirstPropertyValue('dtstamp')?.toString()).toBe('2026-11-25T20:26:56Z');
    }
  });

  it('gives every step its clock time, floating, by an independent reader', () => {
    expect(
      events.map((event) => [event.summary, minutesOf(event.startDate), minutesOf(event.endDate)]),
    ).toEqual(result.schedule.map(({ what, startMin, endMin }) => [what, startMin, endMin]));
    for (const { startDate, endDate } of events) {
      expect(startDate.zone).toBe(ICAL.Timezone.localTimezone);
      expect(endDate.zone).toBe(ICAL.Timezone.localTimezone);
    }
    expect(text).toContain('DTSTART:20261201T080000\r\n');
  });

  it('shows the time of hands as busy and waits as free', () => {
    expect(events.map((event) => event.component.getFirstPropertyValue('transp'))).toEqual(
      result.schedule.map(({ attended }) => (attended ? 'OPAQUE' : 'TRANSPARENT')),
    );
  });

  it('sounds when hands are due and when a wait is over, once each, and never at night', () => {
    const alarms = alarmsOf(events);
    const due = result.schedule.filter(({ attended }) => attended).map(({ startMin }) => startMin);
    for (const startMin of due) expect(alarms).toContain(startMin);
    const over = result.schedule.filter(({ attended }) => !attended).map(({ endMin }) => endMin);
    const isOpen = (atMin: number): boolean => atMin % 1440 >= 480 && atMin % 1440 <= 1020;
    for (const endMin of over) expect(alarms.includes(endMin)).toBe(isOpen(endMin));
    // One cure of the second half is over in the evening; of it nothing is heard.
    expect(over.some((endMin) => !isOpen(endMin))).toBe(true);
    const silent = over.filter((endMin) => isOpen(endMin) && due.includes(endMin)).length;
    const atNight = over.filter((endMin) => !isOpen(endMin)).length;
    expect(alarms).toHaveLength(due.length + over.length - silent - atNight);
  });

  it('tells what to weigh, the bounds, and the cautions beside their steps', () => {
    const about = (what: string): string =>
      events.find((event) => event.summary.endsWith(what))?.description ?? '';
    const batch = about('Piece A: Build, batch 1 of 1');
    expect(batch).toContain('Job: Fishwife; large\n');
    expect(batch).toContain('Takes 15\u00a0min, all hands.');
    expect(batch).toContain(
      '- liquid 650\u00a0g on bench scale\n- powder 1300\u00a0g on bench scale; sift it in\n',
    );
    expect(batch).toContain('Not before Tue 1 Dec, 10:10.');
    expect(batch).toContain('Begun by Wed 2 Dec, 01:50 at the latest');
    expect(batch).toContain('Mixing: Keep powder out of the air.');
    expect(batch).not.toContain('Gloves');
    expect(about('Piece A: Reinforced, batch 1 of 1')).toContain('Reinforced coat: Gloves against glass.');
    expect(about('Piece A: trimmed')).toContain('Keep the guard on.');
    expect(about('Piece B: release on board and the edge of Piece A')).toContain(
      'Brush it on board, shims; let it dry.',
    );
    expect(events[0].description).toContain('All steps: The data sheet wins.');
    expect(events[1].description).not.toContain('The data sheet wins.');
    expect(events[0].location).toBe('Casting, Ltd');
  });

  it('has every caution beside some step', () => {
    const said = events.map(({ description }) => description).join('\n');
    for (const { step, text: words } of CAUTIONS) expect(said).toContain(`${step}: ${words}`);
  });

  it('keeps a step’s UID when the day moves, and gives another job another one', () => {
    const uids = (of: [PlanDocument, PlanResult], startDate = DATE): string[] =>
      read(writeCalendar(of[0], of[1], { startDate, nowUtc: NOW })).map(({ uid }) => uid);
    const own = uids([plan, result]);
    expect(new Set(own).size).toBe(own.length);
    const moved = example((one) => ({ ...one, day: { ...one.day, startDate: '2026-12-07', fromMin: 540 } }));
    expect(uids(moved, '2026-12-07').toSorted()).toEqual(own.toSorted());
    const other = example((one) => ({ ...one, job: { ...one.job, name: 'Fishwife; small' } }));
    expect(uids(other).filter((uid) => own.includes(uid))).toEqual([]);
  });

  it('refuses a first day on which the days off fall otherwise, and one that there is not', () => {
    // Two days from a Friday: the second would be a Saturday.
    const at = (startDate: string) => () => writeCalendar(plan, result, { startDate, nowUtc: NOW });
    expect(at('2026-12-04')).toThrow(PlanError);
    expect(at('2026-12-04')).toThrow(/fall on a Saturday or Sunday/);
    expect(at('2026-12-02')).not.toThrow();
    expect(at('2026-02-30')).toThrow(/no day of the calendar/);
    const [worked] = example((one) => ({ ...one, day: { ...one.day, weekends: true } }));
    expect(() => writeCalendar(worked, result, { startDate: '2026-12-04', nowUtc: NOW })).not.toThrow();
  });

  it('goes over the end of a month, a year and a leap day', () => {
    const dayOf = (startDate: string): string[] => {
      const dates = read(writeCalendar(plan, result, { startDate, nowUtc: NOW })).map(({ startDate: at }) =>
        at.toString().slice(0, 10),
      );
      return [...new Set(dates)];
    };
    expect(dayOf('2026-12-31')).toEqual(['2026-12-31', '2027-01-01']);
    expect(dayOf('2028-02-28')).toEqual(['2028-02-28', '2028-02-29']);
  });

  it('is a calendar without events when nothing is left to do', () => {
    const empty = writeCalendar(plan, { ...result, schedule: [] }, { startDate: DATE, nowUtc: NOW });
    expect(read(empty)).toEqual([]);
  });
});
