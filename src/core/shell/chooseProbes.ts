import type { TriMesh, Vec3 } from '../mesh/TriMesh.ts';

/** Where a pin is worth pushing in. */
export interface ProbePoint {
  readonly region: number;
  readonly pointMm: Vec3;
  readonly predictedMm: number;
}

/** Points on each piece: enough to find a thin area, few enough that they are really measured. Own choice. */
const PROBES_A_PIECE = 6;
/** Two points stand at least so far apart, as a share of the root of the piece's area. Own choice. */
const APART_SHARE = 0.25;

/**
 * Points where the shell is predicted thinnest, apart from each other, by piece and worst first; on a piece of even
 * thickness they spread over it. `thicknessMm` by vertex (NaN off S), `areaMm2` of each vertex.
 * Cost: O(vertices log vertices).
 */
export function chooseProbes(
  mesh: TriMesh,
  thicknessMm: Float64Array,
  vertRegion: Int32Array,
  areasMm2: ArrayLike<number>,
): ProbePoint[] {
  const { positions: p } = mesh;
  const verts = Uint32Array.from(thicknessMm.keys()).filter(
    (vert) => vertRegion[vert] >= 0 && Number.isFinite(thicknessMm[vert]),
  );
  verts.sort((a, b) => thicknessMm[a] - thicknessMm[b] || a - b);
  const chosen: ProbePoint[][] = Array.from({ length: areasMm2.length }, () => []);
  for (const vert of verts) {
    const region = vertRegion[vert];
    const points = chosen[region];
    if (points === undefined || points.length >= PROBES_A_PIECE) continue;
    const apartMm = APART_SHARE * Math.sqrt(areasMm2[region]);
    const at: Vec3 = [p[3 * vert], p[3 * vert + 1], p[3 * vert + 2]];
    const isNear = points.some(
      ({ pointMm: [x, y, z] }) => Math.hypot(x - at[0], y - at[1], z - at[2]) < apartMm,
    );
    if (!isNear) points.push({ region, pointMm: at, predictedMm: thicknessMm[vert] });
  }
  return chosen.flat();
}
