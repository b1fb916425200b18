import type { Box, Vec3 } from './TriMesh.ts';

/** A loop is the foot of the scan when a lid over it covers at least this share of the footprint. */
const LEAST_COVER = 0.05;
/** Only a foot within this share of the height from the board gets a skirt; a higher opening may be meant. */
const SKIRT_SHARE = 0.3;
/** One that comes down to the board is a foot cut askew, and may rise to this share. Own choice. */
const ASKEW_SHARE = 0.6;

/** A loop comes down to the board when its lowest point is within this share of the height of it. Own choice. */
const TOUCHING_SHARE = 0.01;

/**
 * Whether an opening is a foot that hangs a little above the board at z = 0, to be brought down by a skirt. `lid` as of
 * OpenLoop; `box` of the whole mesh.
 */
export function isFoot(
  opening: { readonly min: Vec3; readonly max: Vec3; readonly lid: Vec3 },
  box: Box,
): boolean {
  const { min, max, lid } = opening;
  const share = min[2] <= TOUCHING_SHARE * box.max[2] ? ASKEW_SHARE : SKIRT_SHARE;
  const footprint = (box.max[0] - box.min[0]) * (box.max[1] - box.min[1]);
  return max[2] > 0 && max[2] <= share * box.max[2] && -lid[2] >= LEAST_COVER * footprint;
}
