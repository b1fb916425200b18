import { buildTwins } from '../../mesh/buildTwins.ts';
import { signedVolume } from '../../mesh/measure.ts';
import type { PreparedScan } from '../../mesh/PreparedScan.ts';
import { boundingBox, type TriMesh, type Vec3 } from '../../mesh/TriMesh.ts';

/**
 * The prepared scan of rubber and filler: the union's mesh in the same frame, with what was done among the repairs.
 *
 * Regions are numbered by their first triangles, so that a triangle by each anchor is put in front, in their order: the
 * pieces keep their letters. O(triangles x anchors).
 */
export function scanOfUnion(
  scan: PreparedScan,
  union: TriMesh,
  anchors: readonly Vec3[],
  spotCount: number,
  volumeMm3: readonly number[],
): PreparedScan {
  const mesh = { positions: union.positions, indices: union.indices.slice() };
  const isSurface = surfaceTris(mesh, scan.standsOnBoard);
  anchors.forEach((anchor, place) => {
    const t = nearestTri(mesh, isSurface, anchor, place);
    swapTris(mesh.indices, place, t);
    const kept = isSurface[place];
    isSurface[place] = isSurface[t];
    isSurface[t] = kept;
  });
  const totalMm3 = volumeMm3.reduce((sum, volume) => sum + volume, 0);
  const text = `${spotCount === 1 ? '1 undercut' : `${spotCount} undercuts`} filled, ${(totalMm3 / 1000).toPrecision(3)} cm³ in all; the shell is laid over rubber and filler.`;
  return {
    ...scan,
    mesh,
    twins: buildTwins(mesh.indices).twins,
    isSurface,
    heightMm: boundingBox(mesh).max[2],
    volumeMm3: signedVolume(mesh),
    report: {
      ...scan.report,
      repairs: [...scan.report.repairs, { code: 'undercuts-filled', text, count: spotCount }],
    },
  };
}

/** 0 for the faces that stand on the board. */
function surfaceTris(mesh: TriMesh, standsOnBoard: boolean): Uint8Array {
  const { positions: p, indices } = mesh;
  const isSurface = new Uint8Array(indices.length / 3).fill(1);
  for (let t = 0; standsOnBoard && t < isSurface.length; t++) {
    const isOnBoard =
      p[3 * indices[3 * t] + 2] === 0 &&
      p[3 * indices[3 * t + 1] + 2] === 0 &&
      p[3 * indices[3 * t + 2] + 2] === 0;
    if (isOnBoard) isSurface[t] = 0;
  }
  return isSurface;
}

/** The triangle of S, `from` or later, whose middle is nearest to a point. */
function nearestTri(mesh: TriMesh, isSurface: Uint8Array, [x, y, z]: Vec3, from: number): number {
  const { positions: p, indices } = mesh;
  let best = from;
  let least = Infinity;
  for (let t = from; t < isSurface.length; t++) {
    if (!isSurface[t]) continue;
    const a = 3 * indices[3 * t];
    const b = 3 * indices[3 * t + 1];
    const c = 3 * indices[3 * t + 2];
    const dx = (p[a] + p[b] + p[c]) / 3 - x;
    const dy = (p[a + 1] + p[b + 1] + p[c + 1]) / 3 - y;
    const dz = (p[a + 2] + p[b + 2] + p[c + 2]) / 3 - z;
    const d2 = dx * dx + dy * dy + dz * dz;
    if (d2 >= least) continue;
    least = d2;
    best = t;
  }
  return best;
}

function swapTris(indices: Uint32Array, a: number, b: number): void {
  for (let k = 0; k < 3; k++) {
    const kept = indices[3 * a + k];
    indices[3 * a + k] = indices[3 * b + k];
    indices[3 * b + k] = kept;
  }
}
