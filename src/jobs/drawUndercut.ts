import type { UndercutPicture } from './protocol.ts';
import type { RegionPicture } from './takeRegion.ts';

/** What the undercut step says of each triangle of the cut mesh. */
export interface LockedTriangles {
  /** 3 x triangles: how deep each corner locks, mm; 0 where free. */
  readonly cornerDepthMm: Float32Array;
  /** 0 free, 1 facing away, 2 overshadowed by rubber, 3 by another piece, 4 by the board. */
  readonly triKind: Uint8Array;
}

/**
 * What locks of one region, on its picture. A vertex has the greatest depth of its locked corners: free triangles beside
 * them say nothing, or the depth would fall to zero within one triangle along every border. Cost: one pass.
 */
export function drawUndercut(region: RegionPicture, locked: LockedTriangles): UndercutPicture {
  const { tris, picture } = region;
  const { indices } = picture;
  const depthMm = new Float32Array(picture.positions.length / 3);
  const kind = new Uint8Array(tris.length);
  for (let t = 0; t < tris.length; t++) {
    kind[t] = locked.triKind[tris[t]];
    if (kind[t] === 0) continue;
    for (let k = 0; k < 3; k++) {
      const depth = locked.cornerDepthMm[3 * tris[t] + k];
      const v = indices[3 * t + k];
      if (depth > depthMm[v]) depthMm[v] = depth;
    }
  }
  return { depthMm, kind };
}
