import type { SideRaster } from './SideRaster.ts';

/**
 * True when a point of the surface (pixels, depth in mm) is not hidden. It is held against the farthest of the nine pixels about it,
 * since near an outline the surface falls away by much within one pixel; `slackMm` covers what the line lies off the surface.
 */
export function isSeen(raster: SideRaster, x: number, y: number, depthMm: number, slackMm: number): boolean {
  const { width, height } = raster;
  const cx = Math.floor(x);
  const cy = Math.floor(y);
  let farthest = Infinity;
  for (let py = Math.max(0, cy - 1); py <= Math.min(height - 1, cy + 1); py++) {
    for (let px = Math.max(0, cx - 1); px <= Math.min(width - 1, cx + 1); px++) {
      farthest = Math.min(farthest, raster.depthMm[py * width + px]);
    }
  }
  return depthMm + slackMm >= farthest;
}
