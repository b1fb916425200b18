import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { ViewBox } from '../viewTypes.ts';

/** Points x with normal . x = offsetMm; the normal has length 1. */
export interface DrawnPlane {
  readonly normal: Vec3;
  readonly offsetMm: number;
}

/** Corner numbers of a box's twelve edges; bit k of a corner's number says whether it lies at max along axis k. */
const EDGES: readonly (readonly [number, number])[] = [
  [0, 1],
  [2, 3],
  [4, 5],
  [6, 7],
  [0, 2],
  [1, 3],
  [4, 6],
  [5, 7],
  [0, 4],
  [1, 5],
  [2, 6],
  [3, 7],
];

/**
 * Where a plane runs through a box: the corners of the polygon, three to six, in order, counter-clockwise about the
 * normal. Empty when it passes the box by or only touches it. Source: own arithmetic, edge by edge.
 */
export function planeInBox({ normal, offsetMm }: DrawnPlane, { min, max }: ViewBox): Vec3[] {
  const corner = (n: number): Vec3 => [
    n & 1 ? max[0] : min[0],
    n & 2 ? max[1] : min[1],
    n & 4 ? max[2] : min[2],
  ];
  const height = ([x, y, z]: Vec3): number => normal[0] * x + normal[1] * y + normal[2] * z - offsetMm;
  const points: Vec3[] = [];
  for (const [i, j] of EDGES) {
    const a = corner(i);
    const b = corner(j);
    const ha = height(a);
    const hb = height(b);
    // One end counts as on the near side, so that a corner in the plane is met by one of its edges and no face twice.
    if (ha < 0 === hb < 0) continue;
    const share = ha / (ha - hb);
    points.push([a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]), a[2] + share * (b[2] - a[2])]);
  }
  if (points.length < 3) return [];
  const middle = meanOf(points);
  const u = squareTo(normal);
  const v: Vec3 = [
    normal[1] * u[2] - normal[2] * u[1],
    normal[2] * u[0] - normal[0] * u[2],
    normal[0] * u[1] - normal[1] * u[0],
  ];
  const angle = (p: Vec3): number => {
    const d = [p[0] - middle[0], p[1] - middle[1], p[2] - middle[2]];
    return Math.atan2(d[0] * v[0] + d[1] * v[1] + d[2] * v[2], d[0] * u[0] + d[1] * u[1] + d[2] * u[2]);
  };
  return points.sort((a, b) => angle(a) - angle(b));
}

/** The mean of the points. */
export function meanOf(points: readonly Vec3[]): Vec3 {
  const sum: [number, number, number] = [0, 0, 0];
  for (const point of points) for (let k = 0; k < 3; k++) sum[k] += point[k] / points.length;
  return sum;
}

/** A unit vector square to a unit vector. */
function squareTo([x, y, z]: Vec3): Vec3 {
  // Crossed with the axis it leans to least, where the product is longest.
  const flat: Vec3 =
    Math.abs(x) <= Math.abs(y) && Math.abs(x) <= Math.abs(z)
      ? [0, z, -y]
      : Math.abs(y) <= Math.abs(z)
        ? [-z, 0, x]
        : [y, -x, 0];
  const length = Math.hypot(...flat);
  return [flat[0] / length, flat[1] / length, flat[2] / length];
}
