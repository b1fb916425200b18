import { describe, expect, it } from 'vitest';
import { coatMix } from '../../src/core/material/coatMix.ts';
import type { Vec3 } from '../../src/core/mesh/TriMesh.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import { MOST_THIN_SPOTS, RIDGE_MARGIN_SHARE, thinResult } from '../../src/core/resultOfThin.ts';
import type { ThinSpot } from '../../src/core/shell/findThinSpots.ts';

const spot = (lackMm3: number, outward: Vec3 = [0, -1, 0]): ThinSpot => ({
  areaMm2: 100,
  minMm: 4,
  atMm: [0, -60, 212],
  outward,
  lackMm3,
  mostLackMm: 2,
});
const PLAN = newPlan('bust.stl');
const step = (spots: ThinSpot[], filledMm3: number | null = null) => ({
  reports: [{ minMm: 4, areaBelowMm2: 100 * spots.length, spots }],
  filledMm3: filledMm3 === null ? null : Float64Array.of(filledMm3),
});

describe('thinResult', () => {
  it('the ridge coat: what is lacking and the margin, in the mix of the build coat, said in both systems', () => {
    const { ridgeCoat, spots } = thinResult(PLAN, step([spot(8000), spot(2000)]), 0, 'A');
    const density = coatMix(PLAN, PLAN.coats[1]).mix.densityGPerCm3 / 1000;
    expect(ridgeCoat?.coat).toBe('Build');
    expect(ridgeCoat?.volumeMm3).toBeCloseTo(10_000 * (1 + RIDGE_MARGIN_SHARE), 9);
    expect(ridgeCoat?.massG).toBeCloseTo(10_000 * 1.25 * density, 9);
    expect(spots.map((one) => one.id)).toEqual(['A1', 'A2']);
    expect(spots[0].massG + spots[1].massG).toBeCloseTo(ridgeCoat?.massG ?? 0, 9);
    expect(ridgeCoat?.text).toMatch(/13 ml.*“Build”.*2\.0 cm².*6\.0 mm.*25\u00a0%/);
    expect(ridgeCoat?.usText).not.toMatch(/\d (g|mm|ml|cm²)/);
  });

  it('lists no more than it says and sums the rest', () => {
    const many = Array.from({ length: MOST_THIN_SPOTS + 3 }, (_, n) => spot(100 - n));
    const { spots, spotCount, rest, ridgeCoat } = thinResult(PLAN, step(many), 0, 'A');
    expect(spots).toHaveLength(MOST_THIN_SPOTS);
    expect(spotCount).toBe(many.length);
    expect(rest.areaMm2).toBe(300);
    // 92 + 91 + 90.
    expect(rest.lackMm3).toBe(273);
    expect(spots.reduce((sum, one) => sum + one.massG, rest.massG)).toBeCloseTo(ridgeCoat?.massG ?? 0, 9);
  });

  it.each<[Vec3, string]>([
    [[0, -1, 0], 'front'],
    [[0, 1, 0], 'back'],
    [[0.8, -0.6, 0], 'right'],
    [[-1, 0, 0], 'left'],
    [[0.1, 0, 0.99], 'top'],
    [[0, 0.1, -0.99], 'underside'],
  ])('facing %j it is the %s', (outward, side) => {
    const [first] = thinResult(PLAN, step([spot(1, outward)]), 0, 'A').spots;
    expect([first.side, first.aboveBoardMm]).toEqual([side, 212]);
  });

  it('says what levels it, and what that fills, of the finish', () => {
    const finish = coatMix(PLAN, PLAN.coats[3]).mix.densityGPerCm3 / 1000;
    const levelled = thinResult(PLAN, step([], 5000), 0, 'A');
    expect([levelled.levelledByMm, levelled.ridgeCoat]).toEqual([PLAN.trowelRadiusMm, null]);
    expect(levelled.levelling?.massG).toBeCloseTo(5000 * finish, 9);
    const brushed = thinResult(PLAN, step([]), 0, 'A');
    expect([brushed.levelledByMm, brushed.levelling]).toEqual([null, null]);
  });
});
