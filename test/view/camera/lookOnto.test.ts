import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../../src/core/mesh/TriMesh.ts';
import { cameraBasis } from '../../../src/view/camera/cameraBasis.ts';
import { anglesAround, outwardNormal } from '../../../src/view/camera/lookOnto.ts';
import { POLAR_MAX_RAD } from '../../../src/view/camera/OrbitState.ts';
import { octasphere } from '../../fixtures/shapes.ts';

const dot = (a: Vec3, b: Vec3) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

describe('anglesAround', () => {
  it('begins square on where the camera may stand there, and gives no place under the board', () => {
    const normal: Vec3 = [0.48, -0.64, 0.6];
    const angles = anglesAround(normal);
    expect(dot(angles[0].toward, normal)).toBeCloseTo(1, 9);
    for (const { azimuthRad, polarRad, toward } of angles) {
      expect(polarRad).toBeLessThanOrEqual(POLAR_MAX_RAD);
      expect(toward).toEqual(cameraBasis(azimuthRad, polarRad).back);
    }
    for (let i = 1; i < angles.length; i++) {
      expect(dot(angles[i].toward, normal)).toBeLessThanOrEqual(dot(angles[i - 1].toward, normal));
    }
  });

  it('looks at what faces down from as low as it may', () => {
    expect(anglesAround([0, 0, -1])[0].polarRad).toBe(POLAR_MAX_RAD);
  });
});

describe('outwardNormal', () => {
  const sphere = octasphere(50, 24);
  const picture = { positions: Float32Array.from(sphere.positions), indices: sphere.indices };

  it('of a sphere is the radius', () => {
    for (const radius of [
      [0.6, 0, 0.8],
      [-0.36, 0.48, -0.8],
    ] as Vec3[]) {
      const normal = outwardNormal(picture, [50 * radius[0], 50 * radius[1], 50 * radius[2]], 6);
      // The triangles are gathered by their first corner, so their middle lies up to a side (5 mm) off the spot: 0.1 rad.
      expect(dot(normal, radius)).toBeGreaterThan(Math.cos(0.1));
    }
  });

  it('is that of the nearest triangle where none is within reach, and up where there is none', () => {
    expect(dot(outwardNormal(picture, [0, 90, 0], 1), [0, 1, 0])).toBeGreaterThan(Math.cos(0.15));
    const nothing = { positions: new Float32Array(0), indices: new Uint32Array(0) };
    expect(outwardNormal(nothing, [0, 0, 0], 1)).toEqual([0, 0, 1]);
  });
});
