import { expect, it } from 'vitest';
import { sayCoverage } from '../../src/report/sayCoverage.ts';

// A maker's sheet of 106.4 lb/ft3 (1.704 g/cm3): one pound covers 0.902 ft2 at 1/8 in, recomputed (1 / (106.4 / 96)).
it('a pound of 106.4 lb/ft3 covers 0.90 ft2 at an eighth of an inch, a kilogram 0.185 m2', () => {
  const densityGPerCm3 = 106.4 * 0.01601846;
  expect(sayCoverage(densityGPerCm3, 3.175, 'us')).toBe('1\u00a0lb covers 129.9 in² at 1/8 in');
  expect(129.9 / 144).toBeCloseTo(0.902, 3);
  expect(sayCoverage(densityGPerCm3, 3.175, 'metric')).toBe('1\u00a0kg covers 1\u202f848 cm² at 3.2 mm');
});
