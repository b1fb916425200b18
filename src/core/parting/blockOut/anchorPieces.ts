import type { Vec3 } from '../../mesh/TriMesh.ts';
import { newClosestPoint, type SurfaceTree } from '../../spatial/SurfaceTree.ts';
import type { PartingStep } from '../planParting.ts';
import type { FillerGrid } from './FillerGrid.ts';

/** Places tried for each piece; the one farthest from the lines is taken. */
const TRIES = 200;
/** Points of the lines that they are held against. */
const LINE_POINTS = 400;
/** An anchor farther from the new surface than this, mm, has filler over it. */
const BARE_MM = 1e-3;

/**
 * By region a point of the new surface well inside the piece: the middle of a triangle that no filler covers, as far from
 * the parting lines as can be had; where all of the piece is covered, the new surface over such a triangle.
 * O(triangles) and TRIES x LINE_POINTS a region.
 */
export function anchorPieces(parting: PartingStep, grids: readonly FillerGrid[], after: SurfaceTree): Vec3[] {
  const { cut, chains } = parting;
  const lines: number[] = [];
  let total = 0;
  for (const chain of chains) total += chain.points.length / 3;
  const stride = Math.max(1, Math.floor(total / LINE_POINTS));
  let counter = 0;
  for (const chain of chains) {
    for (let p = 0; p < chain.points.length; p += 3) {
      if (counter++ % stride === 0) lines.push(chain.points[p], chain.points[p + 1], chain.points[p + 2]);
    }
  }
  const near = newClosestPoint();
  const out: Vec3[] = [];
  for (let region = 0; region < cut.regionCount; region++) {
    const tris: number[] = [];
    for (let t = 0; t < cut.cutTriRegion.length; t++) if (cut.cutTriRegion[t] === region) tris.push(t);
    const step = Math.max(1, Math.floor(tris.length / TRIES));
    let best: Vec3 = [0, 0, 0];
    let bestMm = -Infinity;
    for (let n = 0; n < tris.length; n += step) {
      const p = middleOf(parting, tris[n]);
      let least = Infinity;
      for (let l = 0; l < lines.length; l += 3) {
        const d = Math.hypot(lines[l] - p[0], lines[l + 1] - p[1], lines[l + 2] - p[2]);
        if (d < least) least = d;
      }
      after.closestPoint(p[0], p[1], p[2], near);
      // A bare place beats any that is covered, whatever its distance from the lines.
      const isBare = near.distance <= BARE_MM && !grids.some((grid) => grid.holds(p[0], p[1], p[2]));
      const score = isBare ? least : least - 1e6;
      if (score <= bestMm) continue;
      bestMm = score;
      best = [near.point[0], near.point[1], near.point[2]];
    }
    out.push(best);
  }
  return out;
}

function middleOf(parting: PartingStep, tri: number): Vec3 {
  const { positions: p, indices } = parting.cut;
  const sum: [number, number, number] = [0, 0, 0];
  for (let k = 0; k < 3; k++) {
    const v = 3 * indices[3 * tri + k];
    for (let x = 0; x < 3; x++) sum[x] += p[v + x] / 3;
  }
  return sum;
}
