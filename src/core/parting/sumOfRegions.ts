import { addTriSums, TILE_SUMS } from './SurfaceTiles.ts';
import type { CutSurface } from './types.ts';

const known = new WeakMap<CutSurface, Float64Array>();

/**
 * Area, facing and moment of each region of S, laid out as TILE_SUM says; kept with the cut, since several ask. O(tiles and the
 * triangles in those that a line touches).
 *
 * @returns regionCount x TILE_SUMS
 */
export function sumOfRegions(cut: CutSurface): Float64Array {
  let sums = known.get(cut);
  if (!sums) {
    sums = addUp(cut);
    known.set(cut, sums);
  }
  return sums;
}

function addUp(cut: CutSurface): Float64Array {
  const { regionCount, cutTriRegion } = cut;
  const { tiles, tileRegion, loose } = cut.parts;
  const out = new Float64Array(TILE_SUMS * regionCount);
  for (let tile = 0; tile < tiles.count; tile++) {
    if (tileRegion[tile] < 0) continue;
    for (let k = 0; k < TILE_SUMS; k++) {
      out[TILE_SUMS * tileRegion[tile] + k] += tiles.sums[TILE_SUMS * tile + k];
    }
  }
  const normal = new Float64Array(3);
  for (const tri of loose) {
    if (cutTriRegion[tri] >= 0) addTriSums(cut, tri, out, TILE_SUMS * cutTriRegion[tri], normal);
  }
  return out;
}
