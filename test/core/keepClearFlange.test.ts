import { describe, expect, it } from 'vitest';
import { runPlan } from '../../src/core/computePlan.ts';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { shapePlan } from '../fixtures/planShape.ts';
import { openHalfSphere } from '../fixtures/shapes.ts';

const RADIUS_MM = 40;
const COATS_MM = 6;
const FLANGE = { widthMm: 30, thicknessMm: 8 };
const CLEAR_MM = 12;
const MESH = openHalfSphere(RADIUS_MM, 32);

/** A half ball in two halves, parted over its top; with a ball at the top kept clear. */
function plan(isClear: boolean): PlanDocument {
  return shapePlan({
    coatsMm: [COATS_MM],
    scan: {
      board: 0,
      keepClear: isClear ? [{ name: 'Opening', radiusMm: CLEAR_MM, dabsMm: [[0, 0, RADIUS_MM]] }] : [],
    },
    parting: { pieceCount: 2, pullAzimuthsDeg: [90] },
    flange: FLANGE,
  });
}

/** Half the angle under which the ball's border is seen from the middle: its centre lies on the sphere. Own arithmetic. */
const CLEAR_RAD = 2 * Math.asin(CLEAR_MM / (2 * RADIUS_MM));

/**
 * Volume of the flange within an angle of the top: where R + coats < distance from the middle <= R + width, no farther than
 * the thickness off the parting plane. By the middles of small cubes. Own arithmetic.
 */
function flangeWithin(angleRad: number): number {
  const step = 0.2;
  const far = RADIUS_MM + FLANGE.widthMm;
  const low = Math.cos(angleRad);
  let count = 0;
  for (let y = step / 2; y < FLANGE.thicknessMm; y += step) {
    for (let x = step / 2; x < far; x += step) {
      for (let z = step / 2; z < far; z += step) {
        const d = Math.hypot(x, y, z);
        if (d > RADIUS_MM + COATS_MM && d <= far && z > low * d) count++;
      }
    }
  }
  return 4 * count * step ** 3;
}

describe('a flange that meets an area kept clear', () => {
  it('keeps off it as the coats do: volume, mass, lines, shims and fasteners', {
    timeout: 120_000,
  }, async () => {
    const whole = await runPlan(plan(false), MESH, { resolution: 1.5 });
    const clear = await runPlan(plan(true), MESH, { resolution: 1.5 });
    const flangesOf = ({ result }: typeof whole) => result.pieces.map((piece) => piece.flange);
    const sum = (run: typeof whole, key: 'volumeMm3' | 'volumeErrorMm3' | 'massG'): number =>
      flangesOf(run).reduce((total, flange) => total + flange[key], 0);
    const goneMm3 = flangeWithin(CLEAR_RAD);
    const wholeMm3 = flangeWithin(Math.PI / 2);
    expect(Math.abs(sum(whole, 'volumeMm3') - wholeMm3)).toBeLessThan(
      sum(whole, 'volumeErrorMm3') + 0.01 * wholeMm3,
    );
    const gone = sum(whole, 'volumeMm3') - sum(clear, 'volumeMm3');
    expect(Math.abs(gone / goneMm3 - 1)).toBeLessThan(0.03);
    expect(sum(clear, 'massG') / sum(whole, 'massG')).toBeCloseTo(
      sum(clear, 'volumeMm3') / sum(whole, 'volumeMm3'),
      9,
    );
    // An arc of 2 x the angle x R goes from the line; the facets' chords are shorter by less than 1e-3.
    const arcMm = 2 * CLEAR_RAD * RADIUS_MM;
    for (const [n, flange] of flangesOf(clear).entries()) {
      expect(Math.abs(flange.clearMm / arcMm - 1)).toBeLessThan(5e-3);
      expect(flange.lengthMm + flange.clearMm).toBeCloseTo(flangesOf(whole)[n].lengthMm, 6);
      expect(flangesOf(whole)[n].clearMm).toBe(0);
    }
    const { casting } = clear.result;
    expect(casting?.fasteners).toBeGreaterThan(1);
    for (const { pointMm } of casting?.fastenerPoints ?? []) {
      expect(Math.hypot(pointMm[0], pointMm[1], pointMm[2] - RADIUS_MM)).toBeGreaterThan(CLEAR_MM - 1e-6);
    }
    // On both runs of the line.
    expect(new Set(casting?.fastenerPoints.map(({ pointMm }) => Math.sign(pointMm[0]))).size).toBe(2);
    expect(casting?.says.some((line) => line.includes('kept clear'))).toBe(true);
    expect(whole.result.casting?.says.some((line) => line.includes('kept clear'))).toBe(false);
  });
});
