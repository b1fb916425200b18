import type { PieceCells } from '../undercut/PieceCells.ts';
import { newColumnHit } from '../undercut/PullColumns.ts';
import type { PullPlan } from '../undercut/PullPlan.ts';
import type { UndercutBody } from '../undercut/UndercutBody.ts';

/** Columns looked along; the volume is then good to about one part in the root of it. */
const COLUMNS = 400;
/** Columns start this share of the body's size below their face, so that the face itself is not met. */
const START_SHARE = 1e-7;

/**
 * Volume of filler that would clear a region for its pull, mm3, from a few hundred columns: under faces that face away from
 * the pull, evenly spread over what they cover, down to the next rubber or the board, the part that is the region's. The
 * same volume that `undercut/measureFiller` works out along every column; good to some percent, for ranking.
 */
export function sampleFiller(
  body: UndercutBody,
  region: number,
  { frame, columns }: PullPlan,
  cells: PieceCells,
): number {
  const { cut, normals, areasMm2, diagonalMm } = body;
  const { positions: p, indices, cutTriRegion } = cut;
  const { u, v, d } = frame;
  const [dx, dy, dz] = d;
  let totalMm2 = 0;
  for (let t = 0; t < cutTriRegion.length; t++) {
    const sine = normals[3 * t] * dx + normals[3 * t + 1] * dy + normals[3 * t + 2] * dz;
    if (sine < 0) totalMm2 -= sine * areasMm2[t];
  }
  if (totalMm2 === 0) return 0;
  const startMm = START_SHARE * diagonalMm;
  const strideMm2 = totalMm2 / COLUMNS;
  const hit = newColumnHit();
  let passedMm2 = 0;
  let nextMm2 = strideMm2 / 2;
  let lengths = 0;
  for (let t = 0; t < cutTriRegion.length; t++) {
    const sine = normals[3 * t] * dx + normals[3 * t + 1] * dy + normals[3 * t + 2] * dz;
    if (sine >= 0) continue;
    passedMm2 -= sine * areasMm2[t];
    if (passedMm2 < nextMm2) continue;
    const taken = Math.floor((passedMm2 - nextMm2) / strideMm2) + 1;
    nextMm2 += taken * strideMm2;
    const a = 3 * indices[3 * t];
    const b = 3 * indices[3 * t + 1];
    const c = 3 * indices[3 * t + 2];
    const x = (p[a] + p[b] + p[c]) / 3;
    const y = (p[a + 1] + p[b + 1] + p[c + 1]) / 3;
    const z = (p[a + 2] + p[b + 2] + p[c + 2]) / 3;
    const h = x * dx + y * dy + z * dz;
    columns.nextBelow(x * u[0] + y * u[1] + z * u[2], x * v[0] + y * v[1] + z * v[2], h - startMm, hit);
    let length = h - Math.max(hit.heightMm, columns.lowestMm);
    if (body.standsOnBoard && dz > 0 && z < length * dz) length = z / dz;
    if (length <= startMm) continue;
    if (cutTriRegion[t] !== region && !cells.mayHold(region, x, y, z, -dx, -dy, -dz, length)) continue;
    lengths += taken * cells.lengthIn(region, x, y, z, -dx, -dy, -dz, length);
  }
  return lengths * strideMm2;
}
