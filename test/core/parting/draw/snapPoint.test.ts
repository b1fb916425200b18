import { describe, expect, it } from 'vitest';
import type { TriMesh, Vec3 } from '../../../../src/core/mesh/TriMesh.ts';
import { snapPoint } from '../../../../src/core/parting/draw/snapPoint.ts';
import { SurfaceContext } from '../../../../src/core/parting/SurfaceContext.ts';
import { seededRandom } from '../../../fixtures/seededRandom.ts';
import { box, octasphere, openHalfSphere, scaled, torus, turned } from '../../../fixtures/shapes.ts';
import { dividedBox } from '../dividedBox.ts';
import { preparedFromMesh } from '../preparedFromMesh.ts';

const closedContext = (mesh: TriMesh): SurfaceContext => new SurfaceContext(preparedFromMesh(mesh, false));
const UP: Vec3 = [0, 0, 1];

describe('snapPoint: silhouette', () => {
  // A sphere turns from facing a pull to facing away on the great circle square to it (elementary). By symmetry the mesh has
  // vertices on that circle whose normals lie in its plane, so the line is met to rounding.
  it('the equator of a sphere, to rounding', () => {
    const surface = closedContext(octasphere(50, 32));
    const { point, to } = snapPoint(surface, [40, 30, 3], ['silhouette'], 6, UP);
    expect(to).toBe('silhouette');
    expect(Math.abs(point[2])).toBeLessThan(1e-9);
  });

  // With a pull askew the line is off by the error of the interpolated normal, of second order in the edge e (Thuermer &
  // Wuethrich 1998 and any finite difference): within e^2/(2 R); the longest edge of the first mesh is below 3.
  it('the great circle square to a pull askew, four times nearer with half the edge', () => {
    const pull: Vec3 = [2 / 7, 3 / 7, 6 / 7];
    for (const [n, edge] of [
      [32, 3],
      [64, 1.5],
    ]) {
      const surface = closedContext(octasphere(50, n));
      const { point, to } = snapPoint(surface, [48, -10, -6], ['silhouette'], 12, pull);
      expect(to).toBe('silhouette');
      const height = point[0] * pull[0] + point[1] * pull[1] + point[2] * pull[2];
      expect(Math.abs(height)).toBeLessThan(edge ** 2 / (2 * 50));
    }
  });

  // A lying torus pulled up turns away at its outermost and innermost circles (elementary).
  it('the nearer of the outer and inner circle of a torus', () => {
    const surface = closedContext(torus(40, 10, 96, 48));
    const outer = snapPoint(surface, [49, 0, 3], ['silhouette'], 5, UP).point;
    expect(Math.hypot(outer[0], outer[1])).toBeCloseTo(50, 1);
    const inner = snapPoint(surface, [31, 0, 3], ['silhouette'], 5, UP).point;
    expect(Math.hypot(inner[0], inner[1])).toBeCloseTo(30, 1);
  });

  it('is left alone where none is near', () => {
    const surface = closedContext(octasphere(50, 32));
    const { point, to } = snapPoint(surface, [0, 20, 60], ['silhouette'], 6, UP);
    expect(to).toBeNull();
    expect(Math.hypot(...point)).toBeGreaterThan(49.8);
  });
});

describe('snapPoint: board', () => {
  const surface = new SurfaceContext(preparedFromMesh(openHalfSphere(50, 24), true));
  it('the rim, exactly, and the nearest point of it', () => {
    const { point, to } = snapPoint(surface, [35, 35, 5], ['board'], 8, UP);
    expect(to).toBe('board');
    expect(point[2]).toBe(0);
    // The rim is a chain of chords about the circle: with edge e they lie within e^2/(8 R) = 0.03 of it.
    expect(Math.hypot(point[0] - 50 * Math.SQRT1_2, point[1] - 50 * Math.SQRT1_2)).toBeLessThan(0.1);
  });
  it('not from further off than the reach', () => {
    expect(snapPoint(surface, [35, 35, 12], ['board'], 8, UP).to).toBeNull();
  });
  it('the nearest of several kinds', () => {
    expect(snapPoint(surface, [47, 10, 3], ['board', 'silhouette', 'ridge'], 8, UP).to).toBe('board');
  });
});

describe('snapPoint: ridge', () => {
  it('the edge of a box, exactly', () => {
    const surface = closedContext(dividedBox(40, 30, 20, 24));
    const { point, to } = snapPoint(surface, [20, 2.2, 20], ['ridge'], 4, UP);
    expect(to).toBe('ridge');
    expect(point[1]).toBeCloseTo(0, 12);
    expect(point[2]).toBeCloseTo(20, 12);
    expect(point[0]).toBeCloseTo(20, 0);
  });

  it('the edge of a box that is two triangles a face', () => {
    const surface = closedContext(box(40, 30, 20));
    const { point, to } = snapPoint(surface, [20, 2, 20], ['ridge'], 4, UP);
    expect(to).toBe('ridge');
    expect([point[1], point[2]]).toEqual([0, 20]);
  });

  // The crest of z = -a|y| rounded off, that is of the ridge z = -sqrt(y^2 + r^2), is y = 0 (elementary).
  for (const noiseMm of [0, 0.02]) {
    it(`the crest of a rounded ridge, grain of ${noiseMm} mm, seed 7`, () => {
      const random = seededRandom(7);
      const mesh = heightField(
        60,
        120,
        (x, y) => -Math.sqrt(y * y + 4) + 0.02 * x + noiseMm * (2 * random() - 1),
      );
      const surface = closedContext(mesh);
      for (const [x, y] of [
        [3, 2.5],
        [-7, -2],
        [5, 0.4],
      ]) {
        const { point, to } = snapPoint(surface, [x, y, -Math.sqrt(y * y + 4)], ['ridge'], 5, UP);
        expect(to).toBe('ridge');
        // A step of the mesh is 0.5; the crest is met to a part of it.
        expect(Math.abs(point[1])).toBeLessThan(0.3);
      }
    });
  }

  it('keeps off a sphere and off a plane, which have none', () => {
    const sphere = closedContext(octasphere(50, 48));
    expect(snapPoint(sphere, [30, 30, 30], ['ridge'], 8, UP).to).toBeNull();
    const plane = closedContext(dividedBox(40, 30, 20, 24));
    expect(snapPoint(plane, [20, 15, 20], ['ridge'], 5, UP).to).toBeNull();
  });

  it('keeps off the bottom of a groove', () => {
    const surface = closedContext(heightField(60, 120, (_, y) => Math.sqrt(y * y + 4)));
    expect(snapPoint(surface, [0, 1, 2.2], ['ridge'], 5, UP).to).toBeNull();
  });

  it('follows the scan as it is turned and scaled', () => {
    const axis: Vec3 = [0.6, 0, 0.8];
    const mesh = heightField(60, 120, (_, y) => -Math.sqrt(y * y + 4));
    const there = (point: Vec3, f: number): Vec3 => {
      const one = turned(
        { positions: Float64Array.from(point), indices: new Uint32Array(0) },
        axis,
        1,
      ).positions;
      return [f * one[0], f * one[1], f * one[2]];
    };
    const plain = snapPoint(closedContext(mesh), [3, 2, -2.9], ['ridge'], 5, UP).point;
    for (const f of [1e-3, 1e3]) {
      const surface = closedContext(scaled(turned(mesh, axis, 1), [f, f, f]));
      const { point } = snapPoint(surface, there([3, 2, -2.9], f), ['ridge'], 5 * f, UP);
      const expected = there(plain, f);
      for (let k = 0; k < 3; k++) expect(Math.abs(point[k] - expected[k]) / f).toBeLessThan(1e-6);
    }
  });
});

/** A sheet over n x n squares, `size` wide, about the origin. */
function heightField(size: number, n: number, z: (x: number, y: number) => number): TriMesh {
  const positions: number[] = [];
  const indices: number[] = [];
  for (let j = 0; j <= n; j++) {
    for (let i = 0; i <= n; i++) {
      const x = size * (i / n - 0.5);
      const y = size * (j / n - 0.5);
      positions.push(x, y, z(x, y));
    }
  }
  for (let j = 0; j < n; j++) {
    for (let i = 0; i < n; i++) {
      const a = j * (n + 1) + i;
      const b = a + n + 1;
      indices.push(a, a + 1, b + 1, a, b + 1, b);
    }
  }
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
}
