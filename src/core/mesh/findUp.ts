import type { UpAxis } from '../plan/PlanDocument.ts';
import { boxOfCounted } from './boxOfCounted.ts';
import type { OpenLoop } from './measureLoop.ts';
import type { Box, TriMesh } from './TriMesh.ts';
import { writeTriNormal } from './writeNormal.ts';

/** Faces count as a base when they lie within this share of the height from the low end. */
const BASE_SHARE = 0.005;
/** And when they face down to within acos(0.9) = 26 degrees. */
const FACING_DOWN = 0.9;
/** An open loop counts when its middle lies within this share of the height from the low end. */
const LOOP_SHARE = 0.15;
/** A base that covers less of the footprint than this says nothing. */
const LEAST_SCORE = 0.05;
/** A later axis must beat an earlier one by this factor: a box with six equal sides stays as it is. */
const CLEARLY = 1.25;
/** Without base or loop: the underside within this share of the height that faces down to within acos(0.8) = 37 degrees. */
const UNDERSIDE_SHARE = 0.1;
const FACING_ABOUT_DOWN = 0.8;
/** It tells something when it is this many times as large as at any other end. Own choice, made on open scans. */
const UNDERSIDE_CLEARLY = 2;
/** In this order when two are alike: scans come with z up, then y up, as a rule (common practice, no source). */
const ORDER: readonly UpAxis[] = ['z', 'y', 'x', '-y', '-z', '-x'];

export interface FoundUp {
  readonly up: UpAxis;
  /** What it was found by; 'underside' is weak, 'guess' when nothing speaks. */
  readonly by: 'base' | 'loop' | 'underside' | 'guess';
}

/**
 * The axis that stands upright on the board: the one at whose low end a flat base or an open loop covers most of the
 * footprint. Where there is neither, the axis with much the largest underside, if there is one.
 * `isCounted` leaves crumbs out. O(n).
 */
export function findUp(mesh: TriMesh, loops: readonly OpenLoop[], isCounted: Uint8Array): FoundUp {
  const box = boxOfCounted(mesh, isCounted);
  const bases = baseAreas(mesh, isCounted, box, BASE_SHARE, FACING_DOWN);
  let best: FoundUp = { up: 'z', by: 'guess' };
  let bestScore = LEAST_SCORE;
  for (const up of ORDER) {
    const axis = 'xyz'.indexOf(up.at(-1) as string);
    const sign = up.length === 1 ? 1 : -1;
    const height = box.max[axis] - box.min[axis];
    const low = sign > 0 ? box.min[axis] : -box.max[axis];
    const a = (axis + 1) % 3;
    const b = (axis + 2) % 3;
    const footprint = (box.max[a] - box.min[a]) * (box.max[b] - box.min[b]);
    if (!(footprint > 0)) continue;
    const base = bases[2 * axis + (sign > 0 ? 0 : 1)];
    let opening = 0;
    for (const loop of loops) {
      const isLow = sign * loop.centre[axis] - low <= LOOP_SHARE * height;
      if (isLow) opening += Math.max(0, -sign * loop.lid[axis]);
    }
    const score = (base + opening) / footprint;
    if (score > bestScore * (best.by === 'guess' ? 1 : CLEARLY)) {
      best = { up, by: opening > base ? 'loop' : 'base' };
      bestScore = score;
    }
  }
  return best.by === 'guess' ? guessByUnderside(mesh, isCounted, box) : best;
}

function guessByUnderside(mesh: TriMesh, isCounted: Uint8Array, box: Box): FoundUp {
  const bases = baseAreas(mesh, isCounted, box, UNDERSIDE_SHARE, FACING_ABOUT_DOWN);
  const scores = bases.map((area, end) => {
    const k = end >> 1;
    const a = (k + 1) % 3;
    const b = (k + 2) % 3;
    return area / ((box.max[a] - box.min[a]) * (box.max[b] - box.min[b]));
  });
  const [best, second] = scores.slice().sort((x, y) => y - x);
  if (!(best >= LEAST_SCORE && best > UNDERSIDE_CLEARLY * second)) return { up: 'z', by: 'guess' };
  return { up: ENDS[scores.indexOf(best)], by: 'underside' };
}

/** The up axis that puts each end of the box below, in the order of `baseAreas`. */
const ENDS: readonly UpAxis[] = ['x', '-x', 'y', '-y', 'z', '-z'];

/**
 * Projected area of faces that lie within `share` of an end of the box and face out of it (`facing`: least cosine), in
 * the order x low, x high, y low, y high, z low, z high.
 */
function baseAreas(mesh: TriMesh, isCounted: Uint8Array, box: Box, share: number, facing: number): number[] {
  const { positions: p, indices } = mesh;
  const sums = [0, 0, 0, 0, 0, 0];
  const normal = new Float64Array(3);
  const { min, max } = box;
  const reach = [0, 1, 2].map((k) => share * (max[k] - min[k]));
  const [reachX, reachY, reachZ] = reach;
  const [minX, minY, minZ] = min;
  const [maxX, maxY, maxZ] = max;
  for (let t = 0; t < isCounted.length; t++) {
    if (isCounted[t] === 0) continue;
    const a = 3 * indices[3 * t];
    // Nearly all faces have a corner that is far from every end, and need no normal.
    const x = p[a];
    const y = p[a + 1];
    const z = p[a + 2];
    if (
      x - minX > reachX &&
      maxX - x > reachX &&
      y - minY > reachY &&
      maxY - y > reachY &&
      z - minZ > reachZ &&
      maxZ - z > reachZ
    ) {
      continue;
    }
    const b = 3 * indices[3 * t + 1];
    const c = 3 * indices[3 * t + 2];
    const least = facing * writeTriNormal(mesh, t, normal);
    for (let k = 0; k < 3; k++) {
      const along = normal[k];
      if (Math.abs(along) < least) continue;
      if (along < 0) {
        if (Math.max(p[a + k], p[b + k], p[c + k]) - min[k] <= reach[k]) sums[2 * k] -= along / 2;
      } else if (max[k] - Math.min(p[a + k], p[b + k], p[c + k]) <= reach[k]) {
        sums[2 * k + 1] += along / 2;
      }
    }
  }
  return sums;
}
