import type { SideLabel } from './SidePicture.ts';
import { NOTHING, type SideRaster } from './SideRaster.ts';

/** A piece of which less than this is seen, pixels across, is not named on this side. */
const LEAST_ROOM_PX = 6;

/**
 * Where each piece's name may stand: the pixel of its seen part that is farthest from the part's edge, counted along rows and
 * columns (Rosenfeld and Pfaltz 1966, two passes). Coordinates and room in pixels of the raster divided by `factor`.
 */
export function placeNames(raster: SideRaster, pieceCount: number, factor: number): SideLabel[] {
  const { width, height, region } = raster;
  const room = new Int32Array(width * height);
  const isAlike = (n: number, other: number): boolean => region[other] === region[n];
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const n = y * width + x;
      const left = x > 0 && isAlike(n, n - 1) ? room[n - 1] : 0;
      const above = y > 0 && isAlike(n, n - width) ? room[n - width] : 0;
      room[n] = Math.min(left, above) + 1;
    }
  }
  const best = new Int32Array(pieceCount).fill(-1);
  for (let y = height - 1; y >= 0; y--) {
    for (let x = width - 1; x >= 0; x--) {
      const n = y * width + x;
      const right = x < width - 1 && isAlike(n, n + 1) ? room[n + 1] : 0;
      const below = y < height - 1 && isAlike(n, n + width) ? room[n + width] : 0;
      room[n] = Math.min(room[n], right + 1, below + 1);
      const piece = region[n];
      if (piece === NOTHING || piece < 0 || piece >= pieceCount) continue;
      if (best[piece] < 0 || room[n] > room[best[piece]]) best[piece] = n;
    }
  }
  return Array.from(best).flatMap((n, piece): SideLabel[] => {
    if (n < 0 || room[n] < LEAST_ROOM_PX * factor) return [];
    return [
      {
        kind: 'piece',
        number: piece,
        xPx: ((n % width) + 0.5) / factor,
        yPx: (Math.floor(n / width) + 0.5) / factor,
        roomPx: room[n] / factor,
      },
    ];
  });
}
