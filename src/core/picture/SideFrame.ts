import type { SideAxes } from './SideView.ts';

/** How the board frame falls on a raster: x right and y down in its pixels, from the upper left corner. */
export interface SideFrame {
  readonly axes: SideAxes;
  readonly pxPerMm: number;
  /** Pixel of the board frame's origin. */
  readonly originX: number;
  readonly originY: number;
}

/** Points (n x 3, mm) as they fall on the raster: x, y in pixels and the depth toward the eye in mm, n x 3. */
export function projectPoints(points: ArrayLike<number>, frame: SideFrame): Float64Array {
  const { axes, pxPerMm, originX, originY } = frame;
  const [rx, ry, rz] = axes.right;
  const [ux, uy, uz] = axes.up;
  const [ex, ey, ez] = axes.toEye;
  const out = new Float64Array(points.length);
  for (let i = 0; i < points.length; i += 3) {
    const x = points[i];
    const y = points[i + 1];
    const z = points[i + 2];
    out[i] = originX + pxPerMm * (rx * x + ry * y + rz * z);
    out[i + 1] = originY - pxPerMm * (ux * x + uy * y + uz * z);
    out[i + 2] = ex * x + ey * y + ez * z;
  }
  return out;
}
