import type { Box } from '../mesh/TriMesh.ts';
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

function measureBoxes({ positions, indices, cutTriRegion, regionCount }: CutSurface): Box[] {
  const boxes = Array.from({ length: regionCount }, () => ({
    min: [Infinity, Infinity, Infinity] as [number, number, number],
    max: [-Infinity, -Infinity, -Infinity] as [number, number, number],
  }));
  for (let tri = 0; tri < cutTriRegion.length; tri++) {
    if (cutTriRegion[tri] < 0) continue;
    const { min, max } = boxes[cutTriRegion[tri]];
    for (let corner = 3 * tri; corner < 3 * tri + 3; corner++) {
      const at = 3 * indices[corner];
      for (let k = 0; k < 3; k++) {
        if (positions[at + k] < min[k]) min[k] = positions[at + k];
        if (positions[at + k] > max[k]) max[k] = positions[at + k];
      }
    }
  }
  return boxes;
}
