import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';
import type { PartingLinePlan } from '../../src/core/plan/PlanDocument.ts';

type Point = readonly [number, number, number];

/** So many points mark the line; the surface's own shortest ways run between them. */
const POINTS = 32;

/**
 * Where a plane through the middle of a convex body meets its surface, as a parting line: a loop, or for a half body on the
 * board (`isHalf`, the plane upright) the arch above z = 0 from foot to foot.
 *
 * @param mesh mm, stands on z = 0. @param normal of the plane, any length, not zero.
 */
export function planeLine(mesh: TriMesh, normal: Point, isHalf: boolean): PartingLinePlan {
  const { positions: p, indices } = mesh;
  const middle = [0, 0, 0];
  for (let n = 0; n < p.length; n++) middle[n % 3] += (3 * p[n]) / p.length;
  if (isHalf) middle[2] = 0;
  const off = (v: number): number =>
    [0, 1, 2].reduce((sum, axis) => sum + (p[3 * v + axis] - middle[axis]) * normal[axis], 0);
  const crossings: Point[] = [];
  for (let t = 0; t < indices.length; t += 3) {
    for (let k = 0; k < 3; k++) {
      const a = indices[t + k];
      const b = indices[t + ((k + 1) % 3)];
      if (a > b) continue;
      const [from, to] = [off(a), off(b)];
      if (from < 0 === to < 0) continue;
      const share = from / (from - to);
      const at = (axis: number): number => p[3 * a + axis] + share * (p[3 * b + axis] - p[3 * a + axis]);
      crossings.push([at(0), at(1), at(2)]);
    }
  }
  const angle = turnAbout(middle, normal);
  const loop = crossings.sort((a, b) => angle(a) - angle(b));
  return isHalf
    ? { id: 'plane', closed: false, points: spread(arch(loop), false) }
    : { id: 'plane', closed: true, points: spread(loop, true) };
}

/** Angle of a point about the normal through the middle. */
function turnAbout(middle: readonly number[], normal: Point): (point: Point) => number {
  const [nx, ny, nz] = normal;
  const [ux, uy, uz] = Math.abs(nz) > Math.abs(nx) ? [0, nz, -ny] : [-ny, nx, 0];
  const [vx, vy, vz] = [ny * uz - nz * uy, nz * ux - nx * uz, nx * uy - ny * ux];
  const length = Math.hypot(nx, ny, nz);
  return (q) => {
    const [x, y, z] = [q[0] - middle[0], q[1] - middle[1], q[2] - middle[2]];
    return Math.atan2((x * vx + y * vy + z * vz) / length, x * ux + y * uy + z * uz);
  };
}

/** The part of a convex loop that lies above z = 0, from one foot to the other, both on z = 0. */
function arch(loop: readonly Point[]): Point[] {
  const first = loop.findIndex((q, n) => q[2] > 0 && loop.at(n - 1)![2] <= 0);
  const turned = [...loop.slice(first), ...loop.slice(0, first)];
  const above = turned.filter((q) => q[2] > 0);
  const foot = (low: Point, high: Point): Point => {
    const share = low[2] / (low[2] - high[2]);
    return [low[0] + share * (high[0] - low[0]), low[1] + share * (high[1] - low[1]), 0];
  };
  return [foot(turned.at(-1)!, above[0]), ...above, foot(turned[above.length], above.at(-1)!)];
}

/** Points spread evenly along a way. */
function spread(way: readonly Point[], isLoop: boolean): [number, number, number][] {
  const ends = isLoop ? [...way, way[0]] : way;
  const lengths = ends
    .slice(1)
    .map((q, n) => Math.hypot(q[0] - ends[n][0], q[1] - ends[n][1], q[2] - ends[n][2]));
  const whole = lengths.reduce((sum, one) => sum + one, 0);
  const count = isLoop ? POINTS : POINTS - 1;
  const points: [number, number, number][] = [];
  let n = 0;
  let done = 0;
  for (let k = 0; k < POINTS; k++) {
    const wanted = (whole * k) / count;
    while (n < lengths.length - 1 && done + lengths[n] < wanted) done += lengths[n++];
    const share = Math.min(1, (wanted - done) / lengths[n]);
    const at = (axis: number): number => ends[n][axis] + share * (ends[n + 1][axis] - ends[n][axis]);
    points.push([at(0), at(1), at(2)]);
  }
  return points;
}
