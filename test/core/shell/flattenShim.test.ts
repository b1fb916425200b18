import { describe, expect, it } from 'vitest';
import type { Rulings } from '../../../src/core/parting/layRulings.ts';
import { flattenShim } from '../../../src/core/shell/flattenShim.ts';

type Frame = (t: number) => { readonly foot: readonly number[]; readonly normal: readonly number[] };

function rulings(count: number, frame: Frame): Rulings {
  const feet = new Float64Array(3 * (count + 1));
  const normals = new Float64Array(3 * (count + 1));
  for (let p = 0; p <= count; p++) {
    const { foot, normal } = frame(p / count);
    feet.set(foot, 3 * p);
    normals.set(normal, 3 * p);
  }
  return { feet, normals };
}

/** Angle between the first and the last edge of a flat line of n x 2. */
function wholeTurn(flat: Float64Array): number {
  let sum = 0;
  for (let p = 1; p + 1 < flat.length / 2; p++) {
    const [ax, ay] = [flat[2 * p] - flat[2 * p - 2], flat[2 * p + 1] - flat[2 * p - 1]];
    const [bx, by] = [flat[2 * p + 2] - flat[2 * p], flat[2 * p + 3] - flat[2 * p + 1]];
    sum += Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
  }
  return sum;
}

const COUNT = 720;
const R = 100;
const W = 40;

// Closed forms of a strip standing along a curve's normals: Darboux frame, Pottmann and Wallner 2001, recomputed.
describe('flattenShim', () => {
  it('a great circle of a ball unrolls to a ring: its edge turns by the arc over the radius, away from the sheet', () => {
    const arc = Math.PI / 2;
    const shim = flattenShim(
      rulings(COUNT, (t) => {
        const [x, y] = [Math.cos(arc * t), Math.sin(arc * t)];
        return { foot: [R * x, R * y, 0], normal: [x, y, 0] };
      }),
      W,
    );
    expect(wholeTurn(shim.inner)).toBeCloseTo(-arc * (1 - 1 / COUNT), 6);
    expect(shim.worstStrain).toBeLessThan(1e-6);
    expect(shim.alongMm[COUNT]).toBeCloseTo(R * arc, 3);
    let outerMm = 0;
    for (let p = 0; p < COUNT; p++) {
      outerMm += Math.hypot(
        shim.outer[2 * p + 2] - shim.outer[2 * p],
        shim.outer[2 * p + 3] - shim.outer[2 * p + 1],
      );
    }
    expect(outerMm).toBeCloseTo((R + W) * arc, 2);
  });

  it('a small circle of radius r on a ball of radius R unrolls to a sector of the angle 2 pi r / R', () => {
    const r = 60;
    const height = Math.sqrt(R * R - r * r);
    const shim = flattenShim(
      rulings(COUNT, (t) => {
        const [x, y] = [Math.cos(2 * Math.PI * t), Math.sin(2 * Math.PI * t)];
        return { foot: [r * x, r * y, height], normal: [(r * x) / R, (r * y) / R, height / R] };
      }),
      W,
    );
    expect(wholeTurn(shim.inner)).toBeCloseTo(-((2 * Math.PI * r) / R) * (1 - 1 / COUNT), 3);
    expect(shim.worstStrain).toBeLessThan(1e-5);
  });

  it('along a cylinder it is straight, and inside a hollow the sheet is cut short where its rulings would meet', () => {
    const straight = flattenShim(
      rulings(10, (t) => ({ foot: [R, 0, 200 * t], normal: [1, 0, 0] })),
      W,
    );
    expect(wholeTurn(straight.inner)).toBe(0);
    expect(straight.outer[1]).toBeCloseTo(W, 12);
    const hollow = flattenShim(
      rulings(90, (t) => {
        const [x, y] = [Math.cos(Math.PI * t), Math.sin(Math.PI * t)];
        return { foot: [20 * x, 20 * y, 0], normal: [-x, -y, 0] };
      }),
      W,
    );
    // Over a half circle of 20 mm the offset by 40 mm lies wholly outside: nothing of it bounds the sheet.
    expect(hollow.isKept.slice(1, -1).every((kept) => kept === 0)).toBe(true);
  });

  it.each([20, 45, 70])(
    'a helix at %i degrees on a cylinder stretches the outer edge by half (w tau / (1 - w kappa))^2',
    (deg) => {
      const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
      const turns = 1;
      const shim = flattenShim(
        rulings(COUNT, (t) => {
          const a = turns * t;
          return {
            foot: [R * Math.cos(a), R * Math.sin(a), (R * a * s) / c],
            normal: [Math.cos(a), Math.sin(a), 0],
          };
        }),
        W,
      );
      // Curvature away from the normal: -cos^2 / R; twist: sin cos / R.
      const [kappa, tau] = [-(c * c) / R, (s * c) / R];
      const exact = Math.sqrt((1 - W * kappa) ** 2 + (W * tau) ** 2) / (1 - W * kappa) - 1;
      expect(shim.worstStrain).toBeGreaterThan(exact * 0.98);
      expect(shim.worstStrain).toBeLessThan(exact * 1.02);
    },
  );
});
