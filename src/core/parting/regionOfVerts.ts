import type { SurfaceContext } from './SurfaceContext.ts';
import type { CutSurface } from './types.ts';

/** By vertex of the scan its region; on a line any of those that meet there; -1 off S. */
export function regionOfVerts(surface: SurfaceContext, cut: CutSurface): Int32Array {
  const out = new Int32Array(surface.vertCount).fill(-1);
  const { indices } = surface;
  for (let t = 0; t < cut.triRegion.length; t++) {
    const region = cut.triRegion[t];
    if (region < 0) continue;
    for (let k = 0; k < 3; k++) out[indices[3 * t + k]] = region;
  }
  return out;
}
