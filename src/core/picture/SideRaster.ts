/** Region of a pixel where nothing stands. */
export const NOTHING = -2;
/** Region of a pixel of a surface that belongs to no piece. */
export const BARE = -1;

/** A picture before it is inked: what is seen at each pixel, rows from the top. */
export interface SideRaster {
  readonly width: number;
  readonly height: number;
  /** Toward the eye, mm; -Infinity where nothing stands. */
  readonly depthMm: Float32Array;
  /** Number of the piece, BARE or NOTHING. */
  readonly region: Int16Array;
  /** Brightness, 0..1. */
  readonly shade: Float32Array;
}

/** A raster without anything on it. */
export function newSideRaster(width: number, height: number): SideRaster {
  const raster = {
    width,
    height,
    depthMm: new Float32Array(width * height),
    region: new Int16Array(width * height),
    shade: new Float32Array(width * height),
  };
  clearSideRaster(raster);
  return raster;
}

/** Takes everything off, so that the next side is drawn on the same memory. */
export function clearSideRaster({ depthMm, region }: SideRaster): void {
  depthMm.fill(-Infinity);
  // The brightness is read only where something stands.
  region.fill(NOTHING);
}
