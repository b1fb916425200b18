import { describe, expect, it } from 'vitest';
import type { TriMesh, Vec3 } from '../../../../src/core/mesh/TriMesh.ts';
import { castHeights } from '../../../../src/core/parting/undercut/castHeights.ts';
import { pixelAt } from '../../../../src/core/parting/undercut/HeightMap.ts';
import { frameOf } from '../../../../src/core/parting/undercut/PullFrame.ts';
import { seededRandom } from '../../../fixtures/seededRandom.ts';
import { box, octasphere } from '../../../fixtures/shapes.ts';

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

describe('frameOf', () => {
  it('gives right-handed unit axes, u level, v not pointing down, for 500 directions of any length (seed 7)', () => {
    const random = seededRandom(7);
    for (let n = 0; n < 500; n++) {
      const pull: Vec3 =
        n === 0 ? [0, 0, 3] : n === 1 ? [0, 0, -1] : [random() - 0.5, random() - 0.5, random() - 0.5];
      const { u, v, d } = frameOf(pull);
      for (const axis of [u, v, d]) expect(Math.hypot(...axis)).toBeCloseTo(1, 12);
      expect(dot(u, v)).toBeCloseTo(0, 12);
      expect(dot(u, d)).toBeCloseTo(0, 12);
      expect(dot(d, pull)).toBeCloseTo(Math.hypot(...pull), 12);
      const cross = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
      for (let k = 0; k < 3; k++) expect(cross[k]).toBeCloseTo(d[k], 12);
      expect(u[2]).toBe(0);
      expect(v[2]).toBeGreaterThanOrEqual(0);
    }
  });

  it('refuses a pull without direction', () => {
    expect(() => frameOf([0, 0, 0])).toThrow(expect.objectContaining({ code: 'bad-pull' }));
    expect(() => frameOf([Number.NaN, 0, 1])).toThrow(expect.objectContaining({ code: 'bad-pull' }));
  });
});

describe('castHeights', () => {
  it('sees a box from above as its lid over its whole plan, and nothing beside it', () => {
    const body = box(10, 6, 4);
    const map = castHeights(body.positions, body.indices, frameOf([0, 0, 1]), null, 0.5);
    expect(map.top[pixelAt(map, 5, 3)]).toBe(4);
    expect(map.top[pixelAt(map, 0.01, 5.99)]).toBe(4);
    expect(map.top[pixelAt(map, -0.3, 3)]).toBe(-Infinity);
    expect(pixelAt(map, 40, 3)).toBe(-1);
  });

  it('is exact at the centres of a plane triangle', () => {
    const mesh: TriMesh = {
      positions: Float64Array.from([0, 0, 0, 10, 0, 5, 0, 10, -2]),
      indices: Uint32Array.from([0, 1, 2]),
    };
    const frame = frameOf([0, 0, 1]);
    const map = castHeights(mesh.positions, mesh.indices, frame, { uMin: 0, vMin: 0, uMax: 10, vMax: 10 }, 1);
    for (let j = 0; j < 10; j++) {
      for (let i = 0; i < 10; i++) {
        const [x, y] = [i + 0.5, j + 0.5];
        const expected = x + y <= 10 ? 0.5 * x - 0.2 * y : -Infinity;
        if (expected === -Infinity) expect(map.top[j * 10 + i]).toBe(expected);
        else expect(map.top[j * 10 + i]).toBeCloseTo(expected, 5);
      }
    }
  });

  it('loses no triangle that is smaller than a pixel, nor a sliver between the centres', () => {
    const frame = frameOf([0, 0, 1]);
    const window = { uMin: 0, vMin: 0, uMax: 8, vMax: 8 };
    const crumb = Float64Array.from([3.1, 3.1, 7, 3.2, 3.1, 7, 3.1, 3.2, 7]);
    const crumbMap = castHeights(crumb, Uint32Array.from([0, 1, 2]), frame, window, 1);
    expect(crumbMap.top[3 * 8 + 3]).toBe(7);
    const sliver = Float64Array.from([0.1, 2.9, 5, 7.9, 2.9, 5, 7.9, 2.95, 5]);
    const sliverMap = castHeights(sliver, Uint32Array.from([0, 1, 2]), frame, window, 1);
    expect(sliverMap.top[2 * 8]).toBe(5);
    expect(sliverMap.top[2 * 8 + 7]).toBe(5);
  });

  it('has no crack along the edges of a turned sphere', () => {
    const ball = octasphere(50, 24);
    const map = castHeights(ball.positions, ball.indices, frameOf([0.3, -0.5, 0.8]), null, 0.4);
    let inside = 0;
    for (let j = 0; j < map.height; j++) {
      for (let i = 0; i < map.width; i++) {
        const u = map.uMin + (i + 0.5) * map.pixelMm;
        const v = map.vMin + (j + 0.5) * map.pixelMm;
        const rr = 49.5 ** 2 - u * u - v * v;
        if (rr < 0) continue;
        inside++;
        // A face of 24 along a quarter turn is flat to within R (1 - cos(angle)), about 0.2 mm, along its normal.
        expect(map.top[j * map.width + i]).toBeGreaterThan(Math.sqrt(rr) - 0.2);
      }
    }
    expect(inside).toBeGreaterThan(40000);
  });

  it('refuses pixels of no size and maps beyond all bounds', () => {
    const { positions, indices } = box(1, 1, 1);
    expect(() => castHeights(positions, indices, frameOf([0, 0, 1]), null, 0)).toThrow(RangeError);
    expect(() => castHeights(positions, indices, frameOf([0, 0, 1]), null, 1e-6)).toThrow(RangeError);
  });
});
