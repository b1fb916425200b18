import { expect, it } from 'vitest';
import { readStartDate } from '../../src/cli/readStartDate.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import { parsePlan } from '../../src/core/plan/parsePlan.ts';

// A job begun on 9999-12-31 ran into the year 10000, which RFC 5545 (3.3.4, four digits) cannot write: the file was broken.
const PLAN = newPlan('bust.stl');
const startOn = (startDate: string) => parsePlan({ ...PLAN, day: { ...PLAN.day, startDate } });

it.each(['9999-12-31', '0000-01-01', '1999-12-31', '2200-01-01'])('refuses %s as a first day', (date) => {
  expect(() => readStartDate(date)).toThrow(/outside the years 2000 to 2199/);
  expect(() => startOn(date)).toThrow(/“day.startDate” lies outside the years 2000 to 2199/);
});

it.each(['2000-01-01', '2026-12-01', '2199-12-31'])('takes %s', (date) => {
  expect(readStartDate(date)).toBe(date);
  expect(startOn(date).day.startDate).toBe(date);
});
