import type { SideLabel } from './SidePicture.ts';
import type { SideRaster } from './SideRaster.ts';

/** A piece of which less than this is seen, pixels across, is not named on this side. */
const LEAST_ROOM_PX = 6;

/**
 * Where each piece's name may stand: the pixel of its seen part that is farthest from the part's edge, counted along rows and
 * columns (Rosenfeld and Pfaltz 1966, two passes). One of `factor` x `factor` pixels of the raster is looked at; coordinates and
 * room are in those coarser pixels. `factor` divides the raster's sides.
 */
export function placeNames(raster: SideRaster, pieceCount: number, factor: number): SideLabel[] {
  const width = raster.width / factor;
  const height = raster.height / factor;
  const region = new Int16Array(width * height);
  for (let y = 0, n = 0; y < height; y++) {
    let from = y * factor * raster.width;
    for (let x = 0; x < width; x++, n++, from += factor) region[n] = raster.region[from];
  }
  const room = new Int32Array(width * height);
  for (let y = 0, n = 0; y < height; y++) {
    for (let x = 0; x < width; x++, n++) {
      const left = x > 0 && region[n - 1] === region[n] ? room[n - 1] : 0;
      const above = y > 0 && region[n - width] === region[n] ? room[n - width] : 0;
      room[n] = Math.min(left, above) + 1;
    }
  }
  const best = new Int32Array(pieceCount).fill(-1);
  for (let y = height - 1, n = width * height - 1; y >= 0; y--) {
    for (let x = width - 1; x >= 0; x--, n--) {
      const right = x < width - 1 && region[n + 1] === region[n] ? room[n + 1] : 0;
      const below = y < height - 1 && region[n + width] === region[n] ? room[n + width] : 0;
      room[n] = Math.min(room[n], right + 1, below + 1);
      const piece = region[n];
      if (piece < 0 || piece >= pieceCount) continue;
      if (best[piece] < 0 || room[n] > room[best[piece]]) best[piece] = n;
    }
  }
  return Array.from(best).flatMap((n, piece): SideLabel[] => {
    if (n < 0 || room[n] < LEAST_ROOM_PX) return [];
    return [
      {
        kind: 'piece',
        number: piece,
        xPx: (n % width) + 0.5,
        yPx: Math.floor(n / width) + 0.5,
        roomPx: room[n],
      },
    ];
  });
}
