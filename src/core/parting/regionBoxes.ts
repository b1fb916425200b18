import type { Box } from '../mesh/TriMesh.ts';
import { addTriBox, emptyBoxes, TILE_BOX } from './SurfaceTiles.ts';
import type { CutSurface } from './types.ts';

const known = new WeakMap<CutSurface, readonly Box[]>();

/** Box around each region's part of the surface, mm; kept with the cut, since every answer about it asks. An empty region's box is inside out. */
export function regionBoxes(cut: CutSurface): readonly Box[] {
  let boxes = known.get(cut);
  if (!boxes) {
    boxes = measureBoxes(cut);
    known.set(cut, boxes);
  }
  return boxes;
}

function measureBoxes(cut: CutSurface): Box[] {
  const { tiles, tileRegion, loose } = cut.parts;
  const boxes = emptyBoxes(cut.regionCount);
  for (let tile = 0; tile < tiles.count; tile++) {
    if (tileRegion[tile] < 0) continue;
    const at = TILE_BOX * tileRegion[tile];
    const own = TILE_BOX * tile;
    for (let k = 0; k < 3; k++) {
      boxes[at + k] = Math.min(boxes[at + k], tiles.boxes[own + k]);
      boxes[at + 3 + k] = Math.max(boxes[at + 3 + k], tiles.boxes[own + 3 + k]);
    }
  }
  for (const tri of loose) {
    if (cut.cutTriRegion[tri] >= 0) addTriBox(cut, tri, boxes, TILE_BOX * cut.cutTriRegion[tri]);
  }
  return Array.from({ length: cut.regionCount }, (_, region) => {
    const [x0, y0, z0, x1, y1, z1] = boxes.subarray(TILE_BOX * region);
    return { min: [x0, y0, z0], max: [x1, y1, z1] };
  });
}
