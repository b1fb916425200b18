import { describe, expect, it } from 'vitest';
import type { CoatTable } from '../../../src/core/field/CoatTable.ts';
import { boundCoats } from '../../../src/core/shell/boundCoats.ts';

/** A table of a made-up volume over distance. */
const table = (volume: (mm: number) => number, knotMm: number): CoatTable => {
  const knotCount = Math.round(16 / knotMm) + 1;
  const rows = new Float64Array(4 * knotCount);
  for (let k = 0; k < knotCount; k++) rows[4 * k] = volume(k * knotMm);
  return { knotMm, knotCount, rows };
};
const LAYERS = [
  { fromMm: 0, toMm: 3 },
  { fromMm: 3, toMm: 8 },
];
const PLAIN = { bendMm: 0, lineMm: 0 };

describe('bound on the volume of a coat', () => {
  it('covers a fine field whose error is a sixteenth of the coarse one’s (fourth order), at the layer and beside it', () => {
    const fine = table((mm) => 1000 * mm + 7 * mm, 0.5);
    const coarse = table((mm) => 1000 * mm + 16 * 7 * mm, 1);
    boundCoats(fine, coarse, 2, LAYERS, PLAIN, 1).forEach((bound, n) => {
      expect(bound).toBeGreaterThan(7 * (LAYERS[n].toMm - LAYERS[n].fromMm));
    });
  });

  it('does not fall for fields that agree by chance at the two distances', () => {
    // Errors that swing once a millimetre vanish at 0, 3 and 8.
    const fine = table((mm) => 1000 * mm + 5 * Math.sin(Math.PI * mm), 0.25);
    const coarse = table((mm) => 1000 * mm + 40 * Math.sin(Math.PI * mm), 0.5);
    const [first] = boundCoats(fine, coarse, 2, LAYERS, PLAIN, 1);
    expect(first).toBeGreaterThan(10);
  });

  it('grows with bends, lines and cells where the fields agree, and never is nothing', () => {
    const same = table((mm) => 1000 * mm, 0.5);
    const bound = (bendMm: number, lineMm: number, cellMm: number): number =>
      boundCoats(same, same, 2, LAYERS, { bendMm, lineMm }, cellMm)[0];
    const least = bound(0, 0, 1);
    expect(least).toBeGreaterThan(1);
    expect(bound(240, 0, 1)).toBeGreaterThan(least);
    expect(bound(0, 500, 1)).toBeGreaterThan(least);
    // Cells twice as large: a line's share four times, the cells' own eight times.
    expect(bound(0, 0, 2) - 0.06).toBeCloseTo(8 * (least - 0.06), 9);
  });

  it('asks more of fields that differ less in their cells', () => {
    const fine = table((mm) => 1000 * mm, 0.5);
    const coarse = table((mm) => 1100 * mm, 0.75);
    expect(boundCoats(fine, coarse, 1.5, LAYERS, PLAIN, 1)[0]).toBeGreaterThan(
      2 * boundCoats(fine, coarse, 2, LAYERS, PLAIN, 1)[0],
    );
  });
});
