import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { splitPolygon } from '../../src/io/splitPolygon.ts';

/** A polygon about the origin whose corners go round once: simple, by its angles; not convex, by its radii. Counter-clockwise. */
function starOf(radii: readonly number[]): [number, number][] {
  return radii.map((r, i) => {
    const angleRad = (2 * Math.PI * i) / radii.length;
    return [r * Math.cos(angleRad), r * Math.sin(angleRad)];
  });
}

/** Planes through a far point: images of the unit vectors, right-handed with the normal. */
const PLANES = [
  { u: [1, 0, 0], v: [0, 1, 0] },
  { u: [0, 1, 0], v: [1, 0, 0] },
  { u: [0, 1, 0], v: [0, 0, 1] },
  { u: [0, 0, 1], v: [0, 1, 0] },
  { u: [0, 0, 1], v: [1, 0, 0] },
  { u: [0.6, 0.8, 0], v: [-0.48, 0.36, 0.8] },
] as const;

type Point = readonly [number, number, number];

function cross(a: Point, b: Point, c: Point): Point {
  const u = a.map((x, k) => b[k] - x);
  const v = a.map((x, k) => c[k] - x);
  return [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
}

function triangulate(points: readonly Point[]): (readonly [number, number, number])[] {
  const triangles: (readonly [number, number, number])[] = [];
  // Other numbers stand before the polygon's own, so that an offset that is forgotten shows.
  const corners = Uint32Array.from([7, 7, ...points.keys()]);
  const isSplit = splitPolygon(Float64Array.from(points.flat()), corners, 2, points.length, (a, b, c) =>
    triangles.push([a, b, c]),
  );
  expect(isSplit).toBe(true);
  return triangles;
}

describe('splitPolygon', () => {
  it('covers a star-shaped polygon once: n - 2 triangles, none turned over, areas summing to the shoelace formula', () => {
    const radii = fc.array(fc.double({ min: 0.2, max: 1, noNaN: true }), { minLength: 4, maxLength: 40 });
    fc.assert(
      fc.property(radii, fc.constantFrom(...PLANES), (given, { u, v }) => {
        const flat = starOf(given);
        const points = flat.map(
          ([x, y]): Point => [x * u[0] + y * v[0] + 100, x * u[1] + y * v[1] - 50, x * u[2] + y * v[2] + 20],
        );
        const shoelace = flat.reduce((sum, [x, y], i) => {
          const [nx, ny] = flat[(i + 1) % flat.length];
          return sum + (x * ny - y * nx) / 2;
        }, 0);
        const normal = cross([0, 0, 0], u, v);
        const areas = triangulate(points).map(
          ([a, b, c]) =>
            cross(points[a], points[b], points[c]).reduce((sum, x, k) => sum + x * normal[k], 0) / 2,
        );
        expect(areas.length).toBe(given.length - 2);
        // Coordinates near 100 carry rounding of 1e-14; areas of it 1e-13.
        expect(Math.min(...areas)).toBeGreaterThan(-1e-12);
        expect(areas.reduce((sum, area) => sum + area)).toBeCloseTo(shoelace, 10);
      }),
      { seed: 4, numRuns: 500 },
    );
  });

  it('splits a square along a diagonal and keeps its winding', () => {
    const square: Point[] = [
      [0, 0, 0],
      [1, 0, 0],
      [1, 1, 0],
      [0, 1, 0],
    ];
    expect(triangulate(square)).toEqual([
      [0, 1, 2],
      [0, 2, 3],
    ]);
  });

  it('always gives n - 2 triangles of a polygon that crosses itself or has no area', () => {
    const coordinate = fc.integer({ min: -2, max: 2 });
    fc.assert(
      fc.property(
        fc.array(fc.tuple(coordinate, coordinate, coordinate), { minLength: 3, maxLength: 20 }),
        (points) => {
          expect(triangulate(points).length).toBe(points.length - 2);
        },
      ),
      { seed: 5, numRuns: 1000 },
    );
  });
});
