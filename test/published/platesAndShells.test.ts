import { describe, expect, it } from 'vitest';
import { arcRadiusMm } from '../../src/core/work/casting/arcRadiusMm.ts';
import { flangeUnderLoad } from '../../src/core/work/casting/flangeUnderLoad.ts';
import { hoopStressMPa } from '../../src/core/work/casting/hoopStressMPa.ts';
import { plateCoefficients, plateUnderPressure } from '../../src/core/work/casting/plateUnderPressure.ts';

/** Pa in a pound per square inch: 16 CFR 500.19 and NIST HB 44 for pound and inch, 9.80665 m/s2. */
const PA_PER_PSI = 6894.757293168361;
const INCH = 25.4;

/** Plain Navier series for a simply supported plate under even load: Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, article 30. */
function navier(ratio: number, nu = 0.3): { beta: number; alpha: number } {
  // Sides b = 1 along y, a = ratio along x; load 1, rigidity 1.
  let deflection = 0;
  let momentShort = 0;
  for (let m = 1; m < 400; m += 2) {
    for (let n = 1; n < 400; n += 2) {
      const x = (m * m) / ratio ** 2;
      const y = n * n;
      const sign = ((m - 1) / 2 + (n - 1) / 2) % 2 === 0 ? 1 : -1;
      const term = (16 * sign) / (Math.PI ** 6 * m * n * (x + y) ** 2);
      deflection += term;
      momentShort += term * Math.PI ** 2 * (y + nu * x);
    }
  }
  // Stress 6 M / t^2, and D = E t^3 / (12 (1 - nu^2)).
  return { beta: 6 * momentShort, alpha: 12 * (1 - nu * nu) * deflection };
}

describe('Roark, 7th ed., Table 11.4: flat rectangular panels', () => {
  it('W20: supported, 10 psi, 20 x 10 x 0.25 in, E 1e7 psi: 9763 psi and 0.0710 in', () => {
    const { stressMPa, deflectionMm } = plateUnderPressure('supported', {
      longMm: 20 * INCH,
      shortMm: 10 * INCH,
      thicknessMm: 0.25 * INCH,
      pressurePa: 10 * PA_PER_PSI,
      modulusGPa: (1e7 * PA_PER_PSI) / 1e9,
    });
    expect((stressMPa * 1e6) / PA_PER_PSI).toBeCloseTo(9763, 0);
    expect((deflectionMm ?? Number.NaN) / INCH).toBeCloseTo(0.071, 4);
  });

  it('W21: 300 x 300 x 9.525 mm, 9.414 kPa, E 9.86 GPa: 2.684 MPa and 0.397 mm supported, 2.875 MPa and 0.124 mm held', () => {
    // 1600 kg/m3 x 9.80665 m/s2 x 0.6 m.
    const plate = { longMm: 300, shortMm: 300, thicknessMm: 9.525, pressurePa: 9414.384, modulusGPa: 9.86 };
    const supported = plateUnderPressure('supported', plate);
    expect(supported.stressMPa).toBeCloseTo(2.684, 3);
    expect(supported.deflectionMm).toBeCloseTo(0.397, 3);
    const clamped = plateUnderPressure('clamped', plate);
    expect(clamped.stressMPa).toBeCloseTo(2.875, 3);
    expect(clamped.deflectionMm).toBeCloseTo(0.124, 3);
  });

  it('supported: within 0.6 % of Navier’s series at the table’s ratios, within 1 % between and beyond them', () => {
    for (const ratio of [1, 1.2, 1.4, 1.6, 1.8, 2, 3, 4, 5]) {
      const series = navier(ratio);
      const table = plateCoefficients('supported', ratio);
      expect(Math.abs(table.beta / series.beta - 1)).toBeLessThan(0.006);
      expect(Math.abs(table.alpha / series.alpha - 1)).toBeLessThan(0.006);
    }
    for (const ratio of [1.1, 1.3, 1.5, 1.7, 1.9, 2.5, 3.5, 4.5, 7, 12]) {
      const series = navier(ratio);
      const table = plateCoefficients('supported', ratio);
      expect(Math.abs(table.beta / series.beta - 1)).toBeLessThan(0.01);
      expect(Math.abs(table.alpha / series.alpha - 1)).toBeLessThan(0.01);
    }
  });

  it('held: the Galerkin figures of the trade page within 0.2 %, Timoshenko’s .00126 q a^4/D, the strip’s 1/2', () => {
    const galerkin = [0.308, 0.3834, 0.4355, 0.4681, 0.487, 0.4971];
    for (const [n, ratio] of [1, 1.2, 1.4, 1.6, 1.8, 2].entries()) {
      expect(Math.abs(plateCoefficients('clamped', ratio).beta / galerkin[n] - 1)).toBeLessThan(0.002);
    }
    // alpha = 0.00126 x 12 (1 - 0.3^2), printed to three figures.
    expect(plateCoefficients('clamped', 1).alpha).toBeCloseTo(0.00126 * 12 * 0.91, 4);
    expect(plateCoefficients('clamped', 1e9).beta).toBeCloseTo(0.5, 6);
    expect(plateCoefficients('clamped', 1e9).alpha).toBeCloseTo(0.91 / 32, 4);
    expect(plateCoefficients('supported', 1e9).beta).toBeCloseTo(0.75, 6);
    expect(plateCoefficients('supported', 1e9).alpha).toBeCloseTo((5 * 0.91 * 12) / 384, 3);
  });

  it('grows with the ratio without a step', () => {
    for (const edges of ['supported', 'clamped'] as const) {
      for (let ratio = 1; ratio < 30; ratio += 0.05) {
        const here = plateCoefficients(edges, ratio);
        const next = plateCoefficients(edges, ratio + 0.05);
        expect(next.beta).toBeGreaterThanOrEqual(here.beta);
        expect(next.beta - here.beta).toBeLessThan(0.03);
      }
    }
  });

  it('has no deflection without a modulus', () => {
    const plate = { longMm: 300, shortMm: 200, thicknessMm: 10, pressurePa: 5000, modulusGPa: null };
    expect(plateUnderPressure('supported', plate).deflectionMm).toBeNull();
  });
});

describe('curved shells and the flange', () => {
  it('W22: cylinder p r/t at 9.414 kPa, r 150, t 9.525: 0.1483 MPa, the ball half of it', () => {
    const stress = hoopStressMPa(9414, 150, 9.525);
    expect(stress).toBeCloseTo(0.1483, 4);
    expect(stress / 2).toBeCloseTo(0.0741, 4);
  });

  it('the arc’s radius from chord and rise is the circle’s own, up to a half circle and over straight walls', () => {
    for (const half of [0.1, 0.5, 1, Math.PI / 2]) {
      expect(arcRadiusMm(2 * 150 * Math.sin(half), 150 * (1 - Math.cos(half)))).toBeCloseTo(150, 9);
    }
    expect(arcRadiusMm(300, 400)).toBe(150);
  });

  it('flange: a strip of 1 mm held at its arm, by beam theory', () => {
    // 2 N/mm at 15 mm on 12 mm: M = 30 N mm/mm, W = 24 mm3/mm; I = 144 mm4/mm, E 10 GPa: F l^3/(3 E I).
    const { stressMPa, deflectionMm } = flangeUnderLoad(2, 15, 12, 10);
    expect(stressMPa).toBeCloseTo(30 / 24, 12);
    expect(deflectionMm).toBeCloseTo((2 * 15 ** 3) / (3 * 10_000 * 144), 12);
    expect(flangeUnderLoad(2, 15, 12, null).deflectionMm).toBeNull();
  });
});
