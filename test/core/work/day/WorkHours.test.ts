import { expect, it } from 'vitest';
import { PlanError } from '../../../../src/core/errors.ts';
import { DAY_MIN, WorkHours } from '../../../../src/core/work/day/WorkHours.ts';

const hours = { startDate: null, fromMin: 480, toMin: 1020, weekends: false };
const at = (day: number, hour: number, minute = 0): number => day * DAY_MIN + hour * 60 + minute;

it('puts a step into the same day as long as it ends with the hours, else to the next morning', () => {
  const days = new WorkHours(hours);
  expect(days.fit(0, 30)).toBe(at(0, 8));
  expect(days.fit(at(0, 12, 10), 30)).toBe(at(0, 12, 10));
  expect(days.fit(at(0, 16, 30), 30)).toBe(at(0, 16, 30));
  expect(days.fit(at(0, 16, 31), 30)).toBe(at(1, 8));
  expect(days.fit(at(0, 23), 30)).toBe(at(1, 8));
});

it('leaves Saturdays and Sundays out, unless they are worked; without a date the first day is a Monday', () => {
  expect(new WorkHours(hours).fit(at(4, 17), 10)).toBe(at(7, 8));
  expect(new WorkHours({ ...hours, weekends: true }).fit(at(4, 17), 10)).toBe(at(5, 8));
  // 1 December 2026 is a Tuesday, 5 December a Saturday: ISO 8601 weeks, from any calendar.
  expect(new WorkHours({ ...hours, startDate: '2026-12-01' }).fit(at(3, 17), 10)).toBe(at(6, 8));
  expect(new WorkHours({ ...hours, startDate: '2026-12-05' }).fit(0, 10)).toBe(at(2, 8));
  // 29 February 2028, a leap year: a Tuesday.
  expect(new WorkHours({ ...hours, startDate: '2028-02-29' }).fit(at(3, 17), 10)).toBe(at(6, 8));
});

it('begins a step longer than the day with a day', () => {
  const days = new WorkHours(hours);
  expect(days.fit(at(0, 8), 600)).toBe(at(0, 8));
  expect(days.fit(at(0, 8, 1), 600)).toBe(at(1, 8));
});

it.each([
  ['no hours', { ...hours, toMin: 480 }, 'day.toMin'],
  ['hours that end before they begin', { ...hours, toMin: 300 }, 'day.toMin'],
  ['not a number', { ...hours, fromMin: Number.NaN }, 'day.toMin'],
  ['a day that there is not', { ...hours, startDate: '2026-02-30' }, 'day.startDate'],
  ['no date', { ...hours, startDate: 'soon' }, 'day.startDate'],
])('refuses %s', (_, day, field) => {
  expect.assertions(2);
  try {
    new WorkHours(day);
  } catch (error) {
    expect(error).toBeInstanceOf(PlanError);
    expect((error as PlanError).field).toBe(field);
  }
});
