import type { CutSurface } from '../core/parting/types.ts';
import type { SurfacePicture } from './protocol.ts';

/** One region of the cut mesh as a picture, and which triangles of the cut mesh it was made of. */
export interface RegionPicture {
  readonly picture: SurfacePicture;
  /** By triangle of the picture: the triangle of the cut mesh, rising; corners stand in the same order. */
  readonly tris: Uint32Array;
}

/** The cut mesh of one region, with only its own vertices. Cost: one pass over the triangles and one array as long as the vertices. */
export function takeRegion(
  cut: Pick<CutSurface, 'positions' | 'indices' | 'cutTriRegion'>,
  region: number,
): RegionPicture {
  let triCount = 0;
  for (let t = 0; t < cut.cutTriRegion.length; t++) if (cut.cutTriRegion[t] === region) triCount++;
  const tris = new Uint32Array(triCount);
  const indices = new Uint32Array(3 * triCount);
  const to = new Int32Array(cut.positions.length / 3).fill(-1);
  const from: number[] = [];
  let n = 0;
  for (let t = 0; t < cut.cutTriRegion.length; t++) {
    if (cut.cutTriRegion[t] !== region) continue;
    for (let k = 0; k < 3; k++) {
      const v = cut.indices[3 * t + k];
      if (to[v] < 0) {
        to[v] = from.length;
        from.push(v);
      }
      indices[3 * n + k] = to[v];
    }
    tris[n++] = t;
  }
  const positions = new Float32Array(3 * from.length);
  for (let i = 0; i < from.length; i++) {
    for (let k = 0; k < 3; k++) positions[3 * i + k] = cut.positions[3 * from[i] + k];
  }
  return { picture: { positions, indices }, tris };
}
