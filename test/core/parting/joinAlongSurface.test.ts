import { describe, expect, it } from 'vitest';
import { PlanError } from '../../../src/core/errors.ts';
import type { TriMesh, Vec3 } from '../../../src/core/mesh/TriMesh.ts';
import { joinAlongSurface } from '../../../src/core/parting/joinAlongSurface.ts';
import { barycentricInTri, SurfaceContext } from '../../../src/core/parting/SurfaceContext.ts';
import type { SurfacePath } from '../../../src/core/parting/types.ts';
import { box, cylinder, joined, moved, octasphere, openHalfSphere, scaled } from '../../fixtures/shapes.ts';
import { dividedBox } from './dividedBox.ts';
import { preparedFromMesh } from './preparedFromMesh.ts';

const closedContext = (mesh: TriMesh): SurfaceContext => new SurfaceContext(preparedFromMesh(mesh, false));
const boardContext = (mesh: TriMesh): SurfaceContext => new SurfaceContext(preparedFromMesh(mesh, true));

/** Length of the way from a to b, read off the closed line a, b, third. */
function legLength(surface: SurfaceContext, a: Vec3, b: Vec3, third: Vec3): number {
  const path = joinAlongSurface(surface, [a, b, third], true);
  let length = 0;
  for (let i = 3; i < path.points.length; i += 3) {
    const p = path.points;
    length += Math.hypot(p[i] - p[i - 3], p[i + 1] - p[i - 2], p[i + 2] - p[i - 1]);
    if (Math.hypot(p[i] - b[0], p[i + 1] - b[1], p[i + 2] - b[2]) < 1e-9) return length;
  }
  throw new Error('the path does not pass its control point');
}

/** Every segment lies in the triangle it names: both ends have weights in 0..1 and no distance from its plane. */
function expectPathOnSurface(surface: SurfaceContext, path: SurfacePath): void {
  const q = path.points;
  const { positions: p, indices } = surface;
  expect(q.length / 3).toBe(path.segmentTris.length + 1);
  for (let i = 0; i < path.segmentTris.length; i++) {
    for (const m of [3 * i, 3 * i + 3]) {
      const t = path.segmentTris[i];
      const w = barycentricInTri(p, indices, t, q[m], q[m + 1], q[m + 2]);
      for (const x of w) {
        expect(x).toBeGreaterThan(-1e-6);
        expect(x).toBeLessThan(1 + 1e-6);
      }
      const on = [0, 1, 2].map((k) =>
        w.reduce((sum, weight, c) => sum + weight * p[3 * indices[3 * t + c] + k], 0),
      );
      const off = Math.hypot(on[0] - q[m], on[1] - q[m + 1], on[2] - q[m + 2]);
      expect(off).toBeLessThan(1e-9 * surface.diagonalMm);
    }
  }
}

const badLine = (run: () => unknown): PlanError => {
  try {
    run();
  } catch (error) {
    expect(error).toBeInstanceOf(PlanError);
    expect((error as PlanError).code).toBe('bad-line');
    return error as PlanError;
  }
  throw new Error('no error was thrown');
};

describe('joinAlongSurface: straight ways', () => {
  // Elementary: a quarter of a great circle is pi/2 R. The inscribed mesh with edges e has a geodesic shorter by a share
  // of about e^2/(24 R^2) to e^2/(8 R^2); here e < 1.6, R = 50, so 1.3e-4 covers it.
  it('a quarter of a great circle', () => {
    const surface = closedContext(octasphere(50, 64));
    const a: Vec3 = [50, 0, 0];
    expect(Math.abs(legLength(surface, a, [0, 50, 0], [0, 0, 50]) / (25 * Math.PI) - 1)).toBeLessThan(1.3e-4);
  });

  it('an arc between arbitrary points of a sphere is R times the angle', () => {
    const surface = closedContext(octasphere(50, 64));
    const onMesh = (p: Vec3): Vec3 => {
      const s = surface.closestPoint(p);
      return [s.x, s.y, s.z];
    };
    const a = onMesh([30, 25, 31]);
    const b = onMesh([-12, 40, -27]);
    const c = onMesh([-40, -20, 22]);
    const cos = (a[0] * b[0] + a[1] * b[1] + a[2] * b[2]) / (Math.hypot(...a) * Math.hypot(...b));
    expect(Math.abs(legLength(surface, a, b, c) / (50 * Math.acos(cos)) - 1)).toBeLessThan(3e-4);
  });

  // Any polyhedral cone unrolls flat: between points on two of its generators the way is the third side of a triangle.
  it('a cone: straight in its development, to rounding', () => {
    const sides = 48;
    const rows = 12;
    const surface = boardContext(openCone(40, 60, sides, rows));
    const slant = Math.hypot(40, 60);
    const facetRad = 2 * Math.asin((40 * Math.sin(Math.PI / sides)) / slant);
    const at = (side: number, row: number): Vec3 => {
      const share = row / rows;
      const u = (2 * Math.PI * side) / sides;
      return [40 * share * Math.cos(u), 40 * share * Math.sin(u), 60 * (1 - share)];
    };
    const delta = 13 * facetRad;
    const [ra, rb] = [(slant * 7) / rows, (slant * 10) / rows];
    const expected = Math.sqrt(ra * ra + rb * rb - 2 * ra * rb * Math.cos(delta));
    expect(legLength(surface, at(0, 7), at(13, 10), at(30, 9)) / expected).toBeCloseTo(1, 12);
  });

  // Unfolding a box over the edge between two faces: the way is the hypotenuse (the "spider and fly", Dudeney 1903).
  it('a box: the straight line of its unfolding', () => {
    const surface = closedContext(box(30, 20, 10));
    // From the top at 4 mm from the front edge to the front at 7 mm below that edge, 11 mm along.
    const length = legLength(surface, [5, 4, 10], [16, 0, 3], [29, 19, 10]);
    expect(length).toBeCloseTo(Math.hypot(11, 4 + 7), 10);
  });

  it('does not hang on how the box is divided', () => {
    const surface = closedContext(dividedBox(30, 20, 10, 9));
    const length = legLength(surface, [5, 4, 10], [16, 0, 3], [29, 19, 10]);
    expect(length).toBeCloseTo(Math.hypot(11, 4 + 7), 10);
  });

  it('scales with the scan', () => {
    const points: Vec3[] = [
      [30, 25, 31],
      [-12, 40, -27],
      [-40, -20, 22],
    ];
    const one = joinAlongSurface(closedContext(octasphere(50, 16)), points, true).lengthMm;
    for (const f of [1e-3, 1e3]) {
      const other = joinAlongSurface(
        closedContext(scaled(octasphere(50, 16), [f, f, f])),
        points.map(([x, y, z]): Vec3 => [f * x, f * y, f * z]),
        true,
      ).lengthMm;
      expect(other / f / one).toBeCloseTo(1, 9);
    }
  });
});

describe('joinAlongSurface: ends', () => {
  const dome = openHalfSphere(50, 24);

  it('draws ends near the board on to the rim exactly', () => {
    const surface = boardContext(dome);
    const path = joinAlongSurface(
      surface,
      [
        [49, 1, 6],
        [0, 0, 50],
        [-48, 3, 8],
      ],
      false,
    );
    expectPathOnSurface(surface, path);
    expect(path.points[2]).toBe(0);
    expect(path.points[path.points.length - 1]).toBe(0);
  });

  it('takes the edge between S and the base cap as the rim', () => {
    const mesh = cylinder(20, 40, 32);
    // Bottom triangles have their middle at z = 0.
    const isCap = (t: number): boolean =>
      [0, 1, 2].every((k) => mesh.positions[3 * mesh.indices[3 * t + k] + 2] === 0);
    const surface = new SurfaceContext(preparedFromMesh(mesh, true, isCap));
    const path = joinAlongSurface(
      surface,
      [
        [20, 0, 1],
        [0, 0, 40],
        [-20, 0, 2],
      ],
      false,
    );
    expectPathOnSurface(surface, path);
    expect(path.points[2]).toBe(0);
    expect(path.points[path.points.length - 1]).toBe(0);
    for (const t of path.segmentTris) expect(isCap(t)).toBe(false);
    expect(path.lengthMm).toBeGreaterThan(119);
    expect(path.lengthMm).toBeLessThan(120.5);
  });

  it('ends exactly on another line', () => {
    const surface = boardContext(dome);
    const first = joinAlongSurface(
      surface,
      [
        [50, 0, 0],
        [3, 2, 50],
        [-50, 0, 0],
      ],
      false,
    );
    const second = joinAlongSurface(
      surface,
      [
        [0, 50, 0],
        [3, 4, 50],
      ],
      false,
      [first],
    );
    expectPathOnSurface(surface, second);
    const n = second.points.length;
    const end = second.points.subarray(n - 3);
    let nearest = Infinity;
    for (let i = 0; i + 3 < first.points.length; i += 3) {
      nearest = Math.min(nearest, distanceToSegment(end, first.points, i));
    }
    expect(nearest).toBeLessThan(1e-10);
  });
});

describe('joinAlongSurface: refusals', () => {
  const dome = openHalfSphere(50, 12);
  it('too few points', () => {
    expect(badLine(() => joinAlongSurface(boardContext(dome), [[50, 0, 0]], false)).message).toContain(
      'at least 2',
    );
    const two: Vec3[] = [
      [50, 0, 0],
      [0, 0, 50],
    ];
    expect(badLine(() => joinAlongSurface(boardContext(dome), two, true)).message).toContain('at least 3');
  });
  it('an end far from the board', () => {
    const points: Vec3[] = [
      [50, 0, 0],
      [0, 0, 50],
    ];
    expect(badLine(() => joinAlongSurface(boardContext(dome), points, false)).message).toContain('short of');
  });
  it('an open line on a body without a rim', () => {
    const points: Vec3[] = [
      [50, 0, 0],
      [0, 0, 50],
    ];
    const message = badLine(() => joinAlongSurface(closedContext(octasphere(50, 8)), points, false)).message;
    expect(message).toContain('Close the line');
  });
  it('points on parts that are not connected', () => {
    const two = joined(dome, moved(dome, [200, 0, 0]));
    const points: Vec3[] = [
      [50, 0, 0],
      [150, 0, 0],
    ];
    expect(badLine(() => joinAlongSurface(boardContext(two), points, false)).message).toContain(
      'not connected',
    );
  });
  it('a line that crosses itself', () => {
    const points: Vec3[] = [
      [50, 1, 0],
      [10, 30, 39],
      [-30, 0, 40],
      [10, -30, 39],
      [20, 40, 20],
      [0, 50, 0],
    ];
    expect(badLine(() => joinAlongSurface(boardContext(dome), points, false)).message).toContain(
      'crosses itself',
    );
  });
  it('a line round a large hole, but not past a small one', () => {
    const fine = openHalfSphere(50, 32);
    const points: Vec3[] = [
      [50, 0, 0],
      [35, 2, 36],
      [-35, 2, 36],
      [-50, 0, 0],
    ];
    const withHole = (radius: number): SurfaceContext =>
      boardContext({ positions: fine.positions, indices: withoutBall(fine, [0, 3, 50], radius) });
    expect(badLine(() => joinAlongSurface(withHole(25), points, false)).message).toContain('hole');
    expect(joinAlongSurface(withHole(5), points, false).lengthMm).toBeGreaterThan(150);
  });
  it('points that are no numbers', () => {
    const points: Vec3[] = [
      [50, 0, 0],
      [Number.NaN, 0, 0],
    ];
    badLine(() => joinAlongSurface(boardContext(dome), points, false));
  });
});

function withoutBall(mesh: TriMesh, centre: Vec3, radius: number): Uint32Array {
  const kept: number[] = [];
  for (let t = 0; t < mesh.indices.length; t += 3) {
    const near = [0, 1, 2].some((k) => {
      const v = 3 * mesh.indices[t + k];
      const p = mesh.positions;
      return Math.hypot(p[v] - centre[0], p[v + 1] - centre[1], p[v + 2] - centre[2]) < radius;
    });
    if (!near) kept.push(mesh.indices[t], mesh.indices[t + 1], mesh.indices[t + 2]);
  }
  return Uint32Array.from(kept);
}

/** Open cone, apex on the z axis, rim in z = 0, divided in rows. */
function openCone(radius: number, height: number, sides: number, rows: number): TriMesh {
  const positions = [0, 0, height];
  const indices: number[] = [];
  for (let r = 1; r <= rows; r++) {
    for (let s = 0; s < sides; s++) {
      const u = (2 * Math.PI * s) / sides;
      const share = r / rows;
      positions.push(radius * share * Math.cos(u), radius * share * Math.sin(u), height * (1 - share));
    }
  }
  const at = (r: number, s: number): number => 1 + (r - 1) * sides + (s % sides);
  for (let s = 0; s < sides; s++) {
    indices.push(0, at(1, s), at(1, s + 1));
    for (let r = 1; r < rows; r++) {
      indices.push(at(r, s), at(r + 1, s), at(r + 1, s + 1), at(r, s), at(r + 1, s + 1), at(r, s + 1));
    }
  }
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
}

function distanceToSegment(p: Float64Array, q: Float64Array, o: number): number {
  const d = [q[o + 3] - q[o], q[o + 4] - q[o + 1], q[o + 5] - q[o + 2]];
  const len2 = d[0] ** 2 + d[1] ** 2 + d[2] ** 2;
  const dot = (p[0] - q[o]) * d[0] + (p[1] - q[o + 1]) * d[1] + (p[2] - q[o + 2]) * d[2];
  const s = Math.min(1, Math.max(0, dot / len2));
  return Math.hypot(p[0] - q[o] - s * d[0], p[1] - q[o + 1] - s * d[1], p[2] - q[o + 2] - s * d[2]);
}
