import { nextInTri } from './halfEdges.ts';
import type { TriMesh } from './TriMesh.ts';

/**
 * Area of lids over an open loop, mm2: a fan about the middle of its points. Of a loop that runs along the board (z = 0) each
 * stretch above it has a lid of its own, closed straight from end to end, and what lies on the board has none. O(n).
 */
export function lidArea({ positions: p, indices }: TriMesh, halfEdges: Uint32Array): number {
  const isOnBoard = (e: number): boolean =>
    p[3 * indices[e] + 2] === 0 && p[3 * indices[nextInTri(e)] + 2] === 0;
  const start = halfEdges.findIndex(isOnBoard);
  if (start < 0)
    return fanArea(
      p,
      Array.from(halfEdges, (e) => indices[e]),
    );
  let areaMm2 = 0;
  let stretch: number[] = [];
  // Begun after an edge on the board, so that no stretch is torn by the start of the list.
  for (let n = 1; n <= halfEdges.length; n++) {
    const e = halfEdges[(start + n) % halfEdges.length];
    if (!isOnBoard(e)) {
      if (stretch.length === 0) stretch.push(indices[e]);
      stretch.push(indices[nextInTri(e)]);
      continue;
    }
    areaMm2 += fanArea(p, stretch);
    stretch = [];
  }
  return areaMm2;
}

/** Area of the triangles between a closed line through vertices and the mean of these. */
function fanArea(p: Float64Array, verts: readonly number[]): number {
  const middle = [0, 1, 2].map((k) => verts.reduce((sum, v) => sum + p[3 * v + k], 0) / verts.length);
  let area = 0;
  verts.forEach((v, n) => {
    const w = verts[(n + 1) % verts.length];
    const [ux, uy, uz] = middle.map((x, k) => p[3 * v + k] - x);
    const [vx, vy, vz] = middle.map((x, k) => p[3 * w + k] - x);
    area += Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx) / 2;
  });
  return area;
}
