import { afterEach, expect, it } from 'vitest';
import { writeShopTime } from '../../../src/report/calendar/writeShopTime.ts';

const zone = process.env['TZ'];

afterEach(() => {
  if (zone === undefined) delete process.env['TZ'];
  else process.env['TZ'] = zone;
});

// Offsets from the zones' own rules: Vienna +1 in winter and +2 in summer, St. John's -3:30, Kathmandu +5:45.
it.each([
  ['Europe/Vienna', '2026-12-01T08:30:05.900Z', '2026-12-01T09:30:05+01:00'],
  ['Europe/Vienna', '2026-07-01T22:30:00Z', '2026-07-02T00:30:00+02:00'],
  ['America/St_Johns', '2026-12-01T02:00:00Z', '2026-11-30T22:30:00-03:30'],
  ['Asia/Kathmandu', '2026-12-31T20:00:00Z', '2027-01-01T01:45:00+05:45'],
  ['UTC', '2026-12-01T08:30:00Z', '2026-12-01T08:30:00+00:00'],
])('writes the clock of %s', (name, instant, written) => {
  process.env['TZ'] = name;
  const at = new Date(instant);
  expect(writeShopTime(at)).toBe(written);
  expect(Date.parse(written)).toBe(Math.floor(at.getTime() / 1000) * 1000);
});
