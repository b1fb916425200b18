import type { Vec3 } from '../../mesh/TriMesh.ts';
import { minNormPoint } from './minNormPoint.ts';

export interface LargestDraft {
  /** Unit vector. */
  readonly pull: Vec3;
  /** The least angle between the surface and the pull, above 0. */
  readonly draftRad: number;
}

/** A draft below this is no draft: 0.006 degrees, far below any scan's accuracy. */
const NO_DRAFT_RAD = 1e-4;

/**
 * The direction towards which all these unit normals lean most: its least draft is the largest there is. Null when no
 * direction has all normals lean towards it.
 *
 * `normals` n x 3. With `isUpward` only directions that do not go down are taken. It is the centre of the smallest cap that
 * holds the normals, read off the nearest point of their hull; where that would go down, the best is horizontal (draft is
 * concave over directions shorter than one) and the search is made anew in the plane. Cost: that of minNormPoint.
 */
export function largestDraft(normals: Float64Array, isUpward: boolean): LargestDraft | null {
  if (normals.length === 0) return null;
  const free = minNormPoint(normals, 3);
  if (free.norm < NO_DRAFT_RAD) return null;
  if (!isUpward || free.point[2] >= 0) return asDraft(free.point[0], free.point[1], free.point[2], free.norm);
  const flat = new Float64Array((normals.length / 3) * 2);
  for (let i = 0, j = 0; i < normals.length; i += 3) {
    flat[j++] = normals[i];
    flat[j++] = normals[i + 1];
  }
  const level = minNormPoint(flat, 2);
  if (level.norm < NO_DRAFT_RAD) return null;
  return asDraft(level.point[0], level.point[1], 0, level.norm);
}

function asDraft(x: number, y: number, z: number, norm: number): LargestDraft {
  return { pull: [x / norm, y / norm, z / norm], draftRad: Math.asin(Math.min(1, norm)) };
}
