import type { HiddenFaces } from '../undercut/findHidden.ts';
import type { PieceCells } from '../undercut/PieceCells.ts';
import { newColumnHit } from '../undercut/PullColumns.ts';
import type { PullPlan } from '../undercut/PullPlan.ts';
import type { UndercutBody } from '../undercut/UndercutBody.ts';

/** Columns looked along at most, evenly spread over what the hidden faces cover. */
const COLUMNS = 300;
/** Columns start this share of the body's size off their face, so that the face itself is not met. */
const START_SHARE = 1e-7;

/**
 * Volume of filler that would clear a region for its pull, mm3, from a few hundred columns at its hidden faces: from those
 * that face away down to the next rubber or the board, from those overshadowed by another piece's rubber up to it; of each
 * column the part that is the region's. The volume that `undercut/measureFiller` works out along every column, but for
 * columns that touch the region with neither end; good to some percent, for ranking.
 */
export function sampleFiller(
  body: UndercutBody,
  region: number,
  hidden: HiddenFaces,
  { frame, columns }: PullPlan,
  cells: PieceCells,
): number {
  const { cut, normals, diagonalMm } = body;
  const { positions: p, indices } = cut;
  const { u, v, d } = frame;
  const [dx, dy, dz] = d;
  const sineOf = (t: number): number =>
    normals[3 * t] * dx + normals[3 * t + 1] * dy + normals[3 * t + 2] * dz;
  let totalMm2 = 0;
  hidden.tris.forEach((t, n) => {
    totalMm2 += Math.abs(sineOf(t)) * hidden.hiddenMm2[n];
  });
  if (totalMm2 === 0) return 0;
  const startMm = START_SHARE * diagonalMm;
  const strideMm2 = totalMm2 / COLUMNS;
  const hit = newColumnHit();
  let passedMm2 = 0;
  let nextMm2 = strideMm2 / 2;
  let lengths = 0;
  for (let n = 0; n < hidden.tris.length; n++) {
    const t = hidden.tris[n];
    const sine = sineOf(t);
    passedMm2 += Math.abs(sine) * hidden.hiddenMm2[n];
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
    const atU = x * u[0] + y * u[1] + z * u[2];
    const atV = x * v[0] + y * v[1] + z * v[2];
    if (sine < 0) {
      columns.nextBelow(atU, atV, h - startMm, hit);
      let length = h - Math.max(hit.heightMm, columns.lowestMm);
      if (body.standsOnBoard && dz > 0 && z < length * dz) length = z / dz;
      if (length > startMm) lengths += taken * cells.lengthIn(region, x, y, z, -dx, -dy, -dz, length);
    } else {
      columns.nextEntry(atU, atV, h + startMm, hit);
      // Under the region's own rubber the column is the one that comes down from there.
      if (hit.tri < 0 || cut.triRegion[hit.tri] === region) continue;
      lengths += taken * cells.lengthIn(region, x, y, z, dx, dy, dz, hit.heightMm - h);
    }
  }
  return lengths * strideMm2;
}
