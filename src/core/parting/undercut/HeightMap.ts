import type { PullFrame } from './PullFrame.ts';

/**
 * A body looked at against its pull, as heights along the pull on a grid of square pixels.
 *
 * Pixel i, j spans uMin + i pixelMm .. uMin + (i + 1) pixelMm, likewise v; its number is j * width + i.
 */
export interface HeightMap {
  readonly frame: PullFrame;
  readonly pixelMm: number;
  readonly uMin: number;
  readonly vMin: number;
  readonly width: number;
  readonly height: number;
  /** width x height: highest x.d of the body over the pixel, mm; -Infinity where there is nothing. */
  readonly top: Float32Array;
}

/** The part of the plane square to the pull that is looked at, mm. */
export interface HeightWindow {
  readonly uMin: number;
  readonly vMin: number;
  readonly uMax: number;
  readonly vMax: number;
}

/** Number of the pixel over which u, v lies, or -1 outside the map. */
export function pixelAt(map: HeightMap, u: number, v: number): number {
  const i = Math.floor((u - map.uMin) / map.pixelMm);
  const j = Math.floor((v - map.vMin) / map.pixelMm);
  return i < 0 || j < 0 || i >= map.width || j >= map.height ? -1 : j * map.width + i;
}
