import { describe, expect, it } from 'vitest';
import type { CoatTable } from '../../../src/core/field/CoatTable.ts';
import { boundLayers } from '../../../src/core/shell/boundVolume.ts';

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

describe('bound on the volume of a layer', () => {
  it('covers a fine field whose error is a fourth of the coarse one’s (second order)', () => {
    const truth = (mm: number): number => 1000 * mm + 20 * mm ** 2;
    const off = (mm: number): number => 7 * mm;
    const fine = table((mm) => truth(mm) + off(mm), 0.5);
    const coarse = table((mm) => truth(mm) + 4 * off(mm), 1);
    const bounds = boundLayers(fine, coarse, 2, LAYERS, 0, 1);
    LAYERS.forEach(({ fromMm, toMm }, n) => {
      expect(bounds[n]).toBeGreaterThan(off(toMm) - off(fromMm));
    });
  });

  it('does not fall for fields that agree by chance at the two distances', () => {
    // Errors that swing once a millimetre vanish at 0, 3 and 8.
    const truth = (mm: number): number => 1000 * mm;
    const fine = table((mm) => truth(mm) + 5 * Math.sin(Math.PI * mm), 0.25);
    const coarse = table((mm) => truth(mm) + 20 * Math.sin(Math.PI * mm), 0.5);
    const [first] = boundLayers(fine, coarse, 2, LAYERS, 0, 1);
    expect(first).toBeGreaterThan(10);
  });

  it('grows with the square of the cell and with what the surface bends, even where the fields agree', () => {
    const same = table((mm) => 1000 * mm, 0.5);
    const [flat] = boundLayers(same, same, 2, LAYERS, 0, 1);
    const [bent] = boundLayers(same, same, 2, LAYERS, 240, 1);
    const [coarser] = boundLayers(same, same, 2, LAYERS, 240, 2);
    expect(bent - flat).toBeCloseTo(20, 9);
    expect(coarser - flat).toBeCloseTo(80, 9);
    expect(flat).toBeGreaterThan(0);
  });

  it('asks more of fields that differ less in their cells', () => {
    const fine = table((mm) => 1000 * mm, 0.5);
    const coarse = table((mm) => 1003 * mm, 0.75);
    expect(boundLayers(fine, coarse, 1.5, LAYERS, 0, 1)[0]).toBeGreaterThan(
      2 * boundLayers(fine, coarse, 2, LAYERS, 0, 1)[0],
    );
  });
});
