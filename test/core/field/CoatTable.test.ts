import { expect, test } from 'vitest';
import { readTable, sumRunning, TABLE_WIDTH } from '../../../src/core/field/CoatTable.ts';

test('reading between knots is exact for the quadratic part of Steiner and close for its cubic', () => {
  const knotMm = 0.5;
  const volume = (d: number): number => 100 * d + 7 * d * d + 1.3 * d ** 3;
  const rows = new Float64Array(20 * TABLE_WIDTH);
  for (let k = 0; k < 20; k++) rows[k * TABLE_WIDTH] = volume(k * knotMm);
  const out = new Float64Array(TABLE_WIDTH);
  for (let d = 0; d <= 9.5; d += 0.11) {
    readTable({ knotMm, knotCount: 20, rows }, d, out);
    // Cubic convolution leaves at most a tenth of the third derivative times the knot cubed.
    expect(Math.abs(out[0] - volume(d))).toBeLessThan(0.1 * 6 * 1.3 * knotMm ** 3);
  }
});

test('running rows become cumulative ones', () => {
  const rows = Float64Array.of(1, 2, 3, 4, 10, 20, 30, 40, 100, 200, 300, 400);
  sumRunning(rows);
  expect([...rows]).toEqual([1, 2, 3, 4, 11, 22, 33, 44, 111, 222, 333, 444]);
});
