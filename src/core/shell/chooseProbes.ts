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
 * thickness they spread over it. `thicknessMm` by vertex (NaN off S), `areasMm2` by region.
 * Cost: O(vertices) for each point of a piece.
 */
export function chooseProbes(
  mesh: TriMesh,
  thicknessMm: Float64Array,
  vertRegion: Int32Array,
  areasMm2: ArrayLike<number>,
): ProbePoint[] {
  const { positions: p } = mesh;
  const chosen: ProbePoint[][] = Array.from({ length: areasMm2.length }, () => []);
  // Once a point stands, whatever lies near it on its piece is out of the running.
  const isOut = new Uint8Array(thicknessMm.length);
  for (let round = 0; round < PROBES_A_PIECE; round++) {
    const thinnest = new Int32Array(areasMm2.length).fill(-1);
    for (let vert = 0; vert < thicknessMm.length; vert++) {
      const region = vertRegion[vert];
      if (isOut[vert] || region < 0 || !Number.isFinite(thicknessMm[vert])) continue;
      const before = thinnest[region];
      if (before < 0 || thicknessMm[vert] < thicknessMm[before]) thinnest[region] = vert;
    }
    for (let region = 0; region < thinnest.length; region++) {
      const vert = thinnest[region];
      if (vert < 0) continue;
      const pointMm: Vec3 = [p[3 * vert], p[3 * vert + 1], p[3 * vert + 2]];
      chosen[region].push({ region, pointMm, predictedMm: thicknessMm[vert] });
    }
    for (let vert = 0; vert < thicknessMm.length; vert++) {
      const region = vertRegion[vert];
      if (isOut[vert] || region < 0 || thinnest[region] < 0) continue;
      const at = 3 * thinnest[region];
      const dx = p[3 * vert] - p[at];
      const dy = p[3 * vert + 1] - p[at + 1];
      const dz = p[3 * vert + 2] - p[at + 2];
      if (dx * dx + dy * dy + dz * dz < APART_SHARE ** 2 * areasMm2[region]) isOut[vert] = 1;
    }
  }
  return chosen.flat();
}
