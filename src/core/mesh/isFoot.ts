import type { Box, Vec3 } from './TriMesh.ts';

/** A loop is the foot of the scan when a lid over it covers at least this share of the footprint. */
const LEAST_COVER = 0.05;
/** Only a foot within this share of the height from the board gets a skirt; a higher opening may be meant. */
const SKIRT_SHARE = 0.3;

/**
 * Whether an opening is a foot that hangs a little above the board at z = 0, to be brought down by a skirt. `lid` as of
 * OpenLoop; `box` of the whole mesh.
 */
export function isFoot(opening: { readonly max: Vec3; readonly lid: Vec3 }, box: Box): boolean {
  const { max, lid } = opening;
  const footprint = (box.max[0] - box.min[0]) * (box.max[1] - box.min[1]);
  return max[2] > 0 && max[2] <= SKIRT_SHARE * box.max[2] && -lid[2] >= LEAST_COVER * footprint;
}
