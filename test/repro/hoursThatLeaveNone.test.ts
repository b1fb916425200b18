import { expect, it } from 'vitest';
import { WorkHours } from '../../src/core/work/day/WorkHours.ts';

// Hours over midnight were refused in “minutes after midnight” alone, which nobody reads off a clock.
it('says working hours that leave no time as a clock does, and names the field', () => {
  const make = () => new WorkHours({ startDate: null, fromMin: 22 * 60, toMin: 6 * 60, weekends: false });
  expect(make).toThrow(/Working hours from 22:00 to 06:00 leave no time to work: “day.toMin”/);
});
