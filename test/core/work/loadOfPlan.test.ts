import { expect, it } from 'vitest';
import { computePlan } from '../../../src/core/computePlan.ts';
import { shapePlan } from '../../fixtures/planShape.ts';
import { box } from '../../fixtures/shapes.ts';

it('W15 through the whole plan: a block of 400 x 300 x 600 mm as pattern, two pieces, and as scanned rubber', async () => {
  const plan = shapePlan({
    coatsMm: [10],
    scan: { is: 'pattern', rubberMm: 10 },
    parting: { pieceCount: 2, pullAzimuthsDeg: [90] },
    flange: { widthMm: 40, thicknessMm: 12 },
  });
  const mesh = box(400, 300, 600);
  const result = await computePlan(plan, mesh, { until: 'amounts', resolution: 10 });
  const { casting, handling } = result;
  // 1600 kg/m3, foot upward, to the board's plane.
  expect(casting?.headMm).toBeCloseTo(600, 9);
  expect(casting?.maxPressurePa).toBeCloseTo(9414.384, 5);
  expect(casting?.pieces.map((piece) => piece.piece)).toEqual(result.pieces.map((piece) => piece.id));
  for (const piece of casting?.pieces ?? []) expect(piece.openingN).toBeCloseTo(1129.726, 2);
  expect(casting?.fasteners).toBe(casting?.fastenerPoints.length);
  expect(casting?.fasteners).toBeGreaterThan(0);
  // The pattern is the cast: 72 litres of 1.6 kg.
  expect(casting?.castG).toBeCloseTo(72_000 * 1.6, 3);
  const filled = handling.find((row) => row.state === 'with-cast');
  const dryG = result.pieces.reduce((sum, piece) => sum + piece.dryMassG, 0);
  expect((filled?.massKg ?? 0) * 1000).toBeCloseTo(dryG + (result.rubber.layer?.massG ?? 0) + 115_200, 3);
  expect(filled?.carry).toBe('hoist');
  // The block's middle, to the shell's and rubber's small part of the mass.
  expect(Math.abs((filled?.centreOfMassMm?.[0] ?? 0) - 200)).toBeLessThan(2);
  expect(Math.abs((filled?.centreOfMassMm?.[2] ?? 0) - 300)).toBeLessThan(5);
  expect(result.cautions.some((caution) => caution.step === 'Casting')).toBe(true);

  const asRubber = await computePlan({ ...plan, scan: { ...plan.scan, is: 'rubber' } }, mesh, {
    until: 'amounts',
    resolution: 10,
  });
  // Rubber of 9.5 mm within the block: 381 x 281 x 581 are left; the layer is told inward by the growth outward, whose
  // edges are rounded: pi (a + b + c) h^2 instead of 4 (a + b + c) h^2 - 8 h^3, a sixth of a percent of what is left.
  const hollowG = (381 * 281 * 581 * 1.6) / 1000;
  expect(Math.abs((asRubber.casting?.castG ?? 0) / hollowG - 1)).toBeLessThan(0.004);
});
