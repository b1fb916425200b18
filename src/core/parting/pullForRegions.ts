import type { Vec3 } from '../mesh/TriMesh.ts';
import type { RegionFacing } from './measureRegions.ts';

/** A mean normal shorter than this share of the area says nothing about a direction: the region closes round on itself. */
const LEAST_FACING = 0.02;

const UP: Vec3 = [0, 0, 1];

/**
 * Default pulls of the regions, unit vectors. A region that touches the board, or any of a body without one, is pulled
 * along its area-weighted mean normal, made horizontal; when there are exactly two such regions they go exactly apart,
 * along the difference of their means. A cap that does not touch the board is lifted straight up, and so is a lone region.
 * Where none touches it, as on a body that stands on a few points, there is no cap either: all are sides.
 */
export function pullForRegions(regions: readonly RegionFacing[], standsOnBoard: boolean): Vec3[] {
  const pulls = regions.map((): Vec3 => UP);
  const areAllSides = !standsOnBoard || regions.every(({ touchesBoard }) => !touchesBoard);
  const sides = regions.flatMap((region, i) => (region.touchesBoard || areAllSides ? [i] : []));
  if (sides.length < 2) return pulls;
  if (sides.length === 2) {
    const [a, b] = sides;
    const along = horizontalUnit(
      regions[a].areaVector[0] / regions[a].areaMm2 - regions[b].areaVector[0] / regions[b].areaMm2,
      regions[a].areaVector[1] / regions[a].areaMm2 - regions[b].areaVector[1] / regions[b].areaMm2,
    );
    if (along) {
      pulls[a] = along;
      pulls[b] = [0 - along[0], 0 - along[1], 0];
    }
    return pulls;
  }
  for (const i of sides) {
    const { areaVector, areaMm2 } = regions[i];
    const along = horizontalUnit(areaVector[0] / areaMm2, areaVector[1] / areaMm2);
    if (along) pulls[i] = along;
  }
  return pulls;
}

function horizontalUnit(x: number, y: number): Vec3 | null {
  const length = Math.hypot(x, y);
  return length > LEAST_FACING ? [x / length, y / length, 0] : null;
}
