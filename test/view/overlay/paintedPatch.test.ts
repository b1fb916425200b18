import { describe, expect, it } from 'vitest';
import type { SurfacePicture } from '../../../src/jobs/protocol.ts';
import { paintedPatch } from '../../../src/view/overlay/paintedPatch.ts';

/** Area of the part of the patch where the reach is positive, each triangle cut along the straight zero line. */
function insideArea({ positions: p, reachMm }: ReturnType<typeof paintedPatch>): number {
  let sum = 0;
  for (let t = 0; t < reachMm.length; t += 3) {
    const at = (k: number) => [p[3 * (t + k)], p[3 * (t + k) + 1], p[3 * (t + k) + 2]];
    const [a, b, c] = [at(0), at(1), at(2)];
    const u = b.map((x, k) => x - a[k]);
    const v = c.map((x, k) => x - a[k]);
    const area =
      Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]) / 2;
    const r = [reachMm[t], reachMm[t + 1], reachMm[t + 2]];
    const inside = r.filter((x) => x > 0).length;
    if (inside === 3) sum += area;
    if (inside === 1 || inside === 2) {
      const lone = r.findIndex((x) => (inside === 1 ? x > 0 : x <= 0));
      const others = [r[(lone + 1) % 3], r[(lone + 2) % 3]];
      const share = (r[lone] / (r[lone] - others[0])) * (r[lone] / (r[lone] - others[1]));
      sum += inside === 1 ? area * share : area * (1 - share);
    }
  }
  return sum;
}

const square = (half: number): SurfacePicture => ({
  positions: Float32Array.from([-half, -half, 0, half, -half, 0, half, half, 0, -half, half, 0]),
  indices: Uint32Array.from([0, 1, 2, 0, 2, 3]),
});

describe('the painted part of a surface', () => {
  it('is a disc of the brush’s radius on a flat of two large triangles: pi r^2 within a hundredth', () => {
    const patch = paintedPatch(square(200), [{ radiusMm: 10, dabsMm: [[13, -7, 0]] }]);
    expect(Math.abs(insideArea(patch) / (Math.PI * 100) - 1)).toBeLessThan(0.02);
  });

  it('overlapping dabs are drawn once: the union of two discs (own arithmetic)', () => {
    const r = 10;
    const apart = 8;
    const patch = paintedPatch(square(100), [
      {
        radiusMm: r,
        dabsMm: [
          [0, 0, 0],
          [apart, 0, 0],
        ],
      },
    ]);
    const lens = 2 * r * r * Math.acos(apart / (2 * r)) - (apart / 2) * Math.sqrt(4 * r * r - apart * apart);
    const union = 2 * Math.PI * r * r - lens;
    expect(Math.abs(insideArea(patch) / union - 1)).toBeLessThan(0.02);
  });

  it('nothing where no dab reaches', () => {
    expect(paintedPatch(square(50), [{ radiusMm: 5, dabsMm: [[0, 0, 30]] }]).reachMm).toHaveLength(0);
    expect(paintedPatch(square(50), []).positions).toHaveLength(0);
  });
});
