import { writeNormal } from './writeNormal.ts';

/** Loops of more points are split before the search over all triangulations, whose cost is the cube of the points. */
const MOST_POINTS = 300;
/** Angles within this of each other count as equal, so that the area decides; radians. */
const EQUAL_ANGLES_RAD = 1e-6;

/**
 * A triangulation of a closed loop in space: numbers of its points, three a triangle, wound in the loop's direction; or
 * null when there is none without a forbidden edge.
 *
 * Minimises the largest angle between neighbouring triangles (the faces outside the loop included), and among equals the
 * area: Liepa, Filling holes in meshes, 2003, section 3. O(n^3) time, O(n^2) memory; up to 300 points.
 *
 * `points`: n x 3. `outward`: n x 3, normal of the face outside the edge from point i to point i + 1, length 1.
 * `isForbidden(i, j)`: true when the mesh already has an edge between the points.
 */
export function triangulateLoop(
  points: Float64Array,
  outward: Float64Array,
  isForbidden: (i: number, j: number) => boolean,
): number[] | null {
  const n = points.length / 3;
  if (n < 3 || n > MOST_POINTS) return null;
  const angles = new Float64Array(n * n).fill(Infinity);
  const areas = new Float64Array(n * n).fill(Infinity);
  const choice = new Int32Array(n * n).fill(-1);
  const normal = new Float64Array(3);
  const other = new Float64Array(3);
  for (let i = 0; i + 1 < n; i++) {
    angles[i * n + i + 1] = 0;
    areas[i * n + i + 1] = 0;
  }
  /** Angle between the triangle at hand and whatever lies beyond the chord from i to j. */
  const angleAcross = (i: number, j: number): number => {
    const m = j === i + 1 ? -1 : choice[i * n + j];
    if (m < 0) {
      for (let k = 0; k < 3; k++) other[k] = outward[3 * i + k];
    } else if (areaNormal(points, i, m, j, other) === 0) {
      return Math.PI;
    }
    const dot = normal[0] * other[0] + normal[1] * other[1] + normal[2] * other[2];
    return Math.acos(Math.min(1, Math.max(-1, dot)));
  };
  for (let span = 2; span < n; span++) {
    for (let i = 0; i + span < n; i++) {
      const j = i + span;
      const isWhole = span === n - 1;
      if (!isWhole && isForbidden(i, j)) continue;
      let bestAngle = Infinity;
      let bestArea = Infinity;
      let best = -1;
      for (let m = i + 1; m < j; m++) {
        const under = Math.max(angles[i * n + m], angles[m * n + j]);
        if (under === Infinity || under > bestAngle + EQUAL_ANGLES_RAD) continue;
        const area = areaNormal(points, i, m, j, normal);
        if (area === 0) continue;
        let angle = Math.max(under, angleAcross(i, m), angleAcross(m, j));
        if (isWhole) {
          for (let k = 0; k < 3; k++) other[k] = outward[3 * j + k];
          const dot = normal[0] * other[0] + normal[1] * other[1] + normal[2] * other[2];
          angle = Math.max(angle, Math.acos(Math.min(1, Math.max(-1, dot))));
        }
        const total = area + areas[i * n + m] + areas[m * n + j];
        const isBetter =
          angle < bestAngle - EQUAL_ANGLES_RAD || (angle < bestAngle + EQUAL_ANGLES_RAD && total < bestArea);
        if (isBetter) {
          bestAngle = angle;
          bestArea = total;
          best = m;
        }
      }
      angles[i * n + j] = bestAngle;
      areas[i * n + j] = bestArea;
      choice[i * n + j] = best;
    }
  }
  if (choice[n - 1] < 0) return null;
  const out: number[] = [];
  const open = [0, n - 1];
  while (open.length > 0) {
    const j = open.pop() as number;
    const i = open.pop() as number;
    if (j - i < 2) continue;
    const m = choice[i * n + j];
    out.push(i, m, j);
    open.push(i, m, m, j);
  }
  return out;
}

/** Writes the unit normal of points i j k, returns the area (0 when they lie on a line; the normal is then 0). */
function areaNormal(p: Float64Array, i: number, j: number, k: number, normal: Float64Array): number {
  const twice = writeNormal(p, i, j, k, normal);
  // A needle this thin would be dropped as having no area; the longest side is at least half of both together.
  const isFlat = twice <= 1e-9 * (distance2(p, i, j) + distance2(p, i, k));
  const scale = isFlat ? 0 : 1 / twice;
  for (let x = 0; x < 3; x++) normal[x] *= scale;
  return isFlat ? 0 : twice / 2;
}

function distance2(p: Float64Array, i: number, j: number): number {
  return (p[3 * j] - p[3 * i]) ** 2 + (p[3 * j + 1] - p[3 * i + 1]) ** 2 + (p[3 * j + 2] - p[3 * i + 2]) ** 2;
}
