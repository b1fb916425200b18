import { writeTriNormal } from '../../mesh/writeNormal.ts';
import type { SurfaceContext } from '../SurfaceContext.ts';

/** What one face costs in a piece of one pull, per unit of its area. Weights are choices, held against real scans. */
const DRAFT_WEIGHT = 1;
const HIDDEN_WEIGHT = 0.1;
/** Of a lock as deep as the rubber yields, and further of one as deep as FAR_SHARE of the body's diagonal. */
const GIVE_WEIGHT = 0.9;
const DEPTH_WEIGHT = 2;
const FAR_SHARE = 0.04;
/** All else equal a face goes to the pull that it faces more: pieces then meet where they face alike, not anywhere. */
export const SHARING_TURN_WEIGHT = 0.01;
/** The raster can be wrong by so many pixels in depth: what locks no deeper may not lock at all. */
const UNSURE_PIXELS = 2;
/** Sine of the draft that every face would like to have: 2 degrees. A choice. */
const SIN_DRAFT = 0.035;

/** What `tabulateCosts` needs of a sweep: by direction and face, direction by direction. */
export interface HiddenFaces {
  readonly faceCount: number;
  readonly hidden: Uint8Array;
  readonly depthMm: Float32Array;
  readonly pixelMm: number;
}

/**
 * What each vertex of a simple surface costs in a piece that is pulled each way: the sum over a third of the faces around
 * of area times (lack of draft + hidden + depth up to the rubber's give + depth beyond); mm2.
 *
 * @param directions n x 3 unit vectors. @param sweep of the same directions, of the surface's triangles.
 * @param vertCount vertices of the graph that the costs are for, at least those of the surface; the rest cost nothing.
 * @param turnWeight what turning away from the pull weighs, all else equal.
 * @returns directions x vertCount, direction by direction.
 * Cost: O(directions x triangles).
 */
export function tabulateCosts(
  surface: SurfaceContext,
  directions: Float32Array,
  sweep: HiddenFaces,
  giveMm: number,
  vertCount: number,
  turnWeight: number = SHARING_TURN_WEIGHT,
): Float32Array {
  const { triCount, indices, isSurface, diagonalMm } = surface;
  const directionCount = directions.length / 3;
  const normals = new Float64Array(3 * triCount);
  const normal = new Float64Array(3);
  for (let t = 0; t < triCount; t++) {
    writeTriNormal(surface, t, normal);
    normals.set(normal, 3 * t);
  }
  const farMm = FAR_SHARE * diagonalMm;
  const leastGiveMm = Math.max(giveMm, UNSURE_PIXELS * sweep.pixelMm);
  const costs = new Float32Array(directionCount * vertCount);
  for (let k = 0; k < directionCount; k++) {
    const dx = directions[3 * k];
    const dy = directions[3 * k + 1];
    const dz = directions[3 * k + 2];
    const row = k * vertCount;
    const faces = k * sweep.faceCount;
    for (let t = 0; t < triCount; t++) {
      if (!isSurface[t]) continue;
      const nx = normals[3 * t];
      const ny = normals[3 * t + 1];
      const nz = normals[3 * t + 2];
      // Twice the area; a sixth of it is each corner's third.
      const twice = Math.sqrt(nx * nx + ny * ny + nz * nz);
      if (twice === 0) continue;
      const facing = (nx * dx + ny * dy + nz * dz) / twice;
      let cost = turnWeight * (1 - facing);
      if (facing < SIN_DRAFT) cost += DRAFT_WEIGHT * (SIN_DRAFT - facing);
      if (sweep.hidden[faces + t]) {
        const depth = sweep.depthMm[faces + t];
        cost +=
          HIDDEN_WEIGHT +
          GIVE_WEIGHT * Math.min(1, depth / leastGiveMm) +
          DEPTH_WEIGHT * Math.min(1, depth / farMm);
      }
      const share = (cost * twice) / 6;
      costs[row + indices[3 * t]] += share;
      costs[row + indices[3 * t + 1]] += share;
      costs[row + indices[3 * t + 2]] += share;
    }
  }
  return costs;
}
