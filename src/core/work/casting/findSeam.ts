import type { Vec3 } from '../../mesh/TriMesh.ts';
import type { CastingLine } from './CastingGround.ts';
import { type MouldFill, pressureAt } from './MouldFill.ts';

/** A line that ends so near to the board ends on it: there seam and foot meet, and the line's end is named. */
const AT_THE_FOOT_MM = 1;

/**
 * Where the mould leaks first: the seam under the highest pressure, among the parting lines and, where the rubber is open
 * underneath, its foot along the board. Null where none of them is under pressure.
 *
 * @param footMm the rubber's lowest point over the board; null where it is closed underneath and has no foot to leak at.
 */
export function findSeam(
  lines: readonly CastingLine[],
  footMm: Vec3 | null,
  fill: MouldFill,
): { readonly pressurePa: number; readonly pointMm: Vec3 } | null {
  let at: Vec3 | null = null;
  let pressurePa = 0;
  for (const line of lines) {
    for (const point of line.points) {
      const here = pressureAt(fill, point[2]);
      if (here > pressurePa) {
        pressurePa = here;
        at = point;
      }
    }
  }
  if (footMm !== null) {
    const here = pressureAt(fill, footMm[2]);
    const needed = at === null ? 0 : pressurePa + AT_THE_FOOT_MM * fill.paPerMm;
    if (here > needed) {
      pressurePa = here;
      at = footMm;
    } else if (here > pressurePa) {
      pressurePa = here;
    }
  }
  return at === null ? null : { pressurePa, pointMm: at };
}
