import { describe, expect, it } from 'vitest';
import { predictThickness } from '../../../src/core/shell/predictThickness.ts';

/** Volume per area on curved ground, Steiner's local formula (S = A(1 + 2Ht + Kt^2)); closed forms below by hand. */
describe('thickness of a coat laid by weight', () => {
  it('flat: as laid', () => {
    expect(predictThickness(9.5, 0, 0)).toBeCloseTo(9.5, 12);
  });

  it.each([10, 50, 200])('ridge, a sphere of %i mm: (r^3 + 3 r^2 t)^(1/3) - r', (r) => {
    const exact = Math.cbrt(r ** 3 + 3 * r ** 2 * 9.5) - r;
    expect(predictThickness(9.5, 1 / r, 1 / r ** 2)).toBeCloseTo(exact, 9);
    expect(exact).toBeLessThan(9.5);
  });

  it.each([10, 50])('ridge, a cylinder of %i mm: sqrt(r^2 + 2 r t) - r', (r) => {
    expect(predictThickness(9.5, 1 / (2 * r), 0)).toBeCloseTo(Math.sqrt(r ** 2 + 2 * r * 9.5) - r, 9);
  });

  it('hollow sphere of 50 mm: r - (r^3 - 3 r^2 t)^(1/3)', () => {
    const r = 50;
    const exact = r - Math.cbrt(r ** 3 - 3 * r ** 2 * 9.5);
    expect(predictThickness(9.5, -1 / r, 1 / r ** 2)).toBeCloseTo(exact, 8);
    expect(exact).toBeGreaterThan(9.5);
  });

  it('hollow sphere of 20 mm holds r / 3 of laying at most; more fills it', () => {
    const r = 20;
    expect(predictThickness(r / 3 - 0.01, -1 / r, 1 / r ** 2)).toBeLessThan(r);
    expect(predictThickness(r / 3 + 0.01, -1 / r, 1 / r ** 2)).toBe(Infinity);
  });

  it.each([
    [0.6, -0.12],
    [0.3, -0.05],
    [0.05, -0.3],
    [-0.02, -0.001],
  ])('saddle with curvatures %f and %f: the least root, as a scan of the cubic finds it', (k1, k2) => {
    const mean = (k1 + k2) / 2;
    const gauss = k1 * k2;
    const laid = 9.5;
    let scanned = Infinity;
    for (let h = 0; h < 60; h += 1e-3) {
      if (h + mean * h * h + (gauss * h ** 3) / 3 >= laid) {
        scanned = h;
        break;
      }
    }
    const found = predictThickness(laid, mean, gauss);
    if (scanned === Infinity) expect(found).toBe(Infinity);
    else expect(Math.abs(found - scanned)).toBeLessThan(2e-3);
  });
});
