import type { UndercutPicture } from './protocol.ts';
import type { RegionPicture } from './takeRegion.ts';

/** What the undercut step says of each triangle of the cut mesh. */
export interface LockedTriangles {
  /** 3 x triangles: how deep each corner locks, mm; 0 where free. */
  readonly cornerDepthMm: Float32Array;
  /** 0 free, 1 facing away, 2 overshadowed by rubber, 3 by another piece, 4 by the board. */
  readonly triKind: Uint8Array;
}

/** Rounds of evening out; enough to take the map's steps out of the lines of depth. */
const ROUNDS = 2;

/**
 * What locks of one region, on its picture. A vertex has the mean depth of its locked corners: free triangles beside
 * them say nothing, or the depth would fall to zero within one triangle along every border. The depths come from a map,
 * and are evened out a little over the surface; those at the border of what locks stay. Figures are not taken from here.
 * Cost: a few passes over the locked triangles.
 */
export function drawUndercut(region: RegionPicture, locked: LockedTriangles): UndercutPicture {
  const { tris, picture } = region;
  const { indices } = picture;
  const count = picture.positions.length / 3;
  const depthMm = new Float32Array(count);
  const kind = new Uint8Array(tris.length);
  const met = new Uint16Array(count);
  // By vertex: the next corners less the former ones, over its locked triangles. All round the vertex they cancel out; where
  // the locked triangles end, at a free one or at the piece's own border, they leave the first less the last.
  const open = new Float64Array(count);
  for (let t = 0; t < tris.length; t++) {
    kind[t] = locked.triKind[tris[t]];
    if (kind[t] === 0) continue;
    for (let k = 0; k < 3; k++) {
      const v = indices[3 * t + k];
      open[v] += indices[3 * t + ((k + 1) % 3)] - indices[3 * t + ((k + 2) % 3)];
      depthMm[v] += locked.cornerDepthMm[3 * tris[t] + k];
      met[v]++;
    }
  }
  for (let v = 0; v < count; v++) if (met[v] > 0) depthMm[v] /= met[v];
  for (let round = 0; round < ROUNDS; round++) evenOut(depthMm, indices, kind, open);
  return { depthMm, kind };
}

/** Each vertex with locked triangles all round becomes the mean of itself and its neighbours, which count once for each triangle they share. */
function evenOut(depthMm: Float32Array, indices: Uint32Array, kind: Uint8Array, open: Float64Array): void {
  const sum = Float64Array.from(depthMm);
  const weight = new Uint16Array(depthMm.length).fill(1);
  for (let t = 0; t < kind.length; t++) {
    if (kind[t] === 0) continue;
    for (let k = 0; k < 3; k++) {
      const v = indices[3 * t + k];
      sum[v] += depthMm[indices[3 * t + ((k + 1) % 3)]] + depthMm[indices[3 * t + ((k + 2) % 3)]];
      weight[v] += 2;
    }
  }
  for (let v = 0; v < depthMm.length; v++) if (open[v] === 0) depthMm[v] = sum[v] / weight[v];
}
