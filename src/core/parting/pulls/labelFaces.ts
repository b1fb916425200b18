import type { Vec3 } from '../../mesh/TriMesh.ts';
import type { SurfaceContext } from '../SurfaceContext.ts';
import type { CutSurface } from '../types.ts';
import type { SimpleSurface } from './simplifySurface.ts';

/**
 * The region of every face of the simple surface, by its middle: that of its corners where they agree (corners are vertices
 * of the full scan), else that of the nearest triangle of the full surface.
 *
 * @param vertRegion region by vertex of the full scan, as PartingStep has it.
 * -1 where no region is found. Cost: O(n), and some 10 microseconds for each face that a line runs near.
 */
export function labelFaces(
  simple: SimpleSurface,
  surface: SurfaceContext,
  cut: CutSurface,
  vertRegion: Int32Array,
): Int32Array {
  const { positions: p, indices } = simple.scan.mesh;
  const count = indices.length / 3;
  const labels = new Int32Array(count);
  for (let t = 0; t < count; t++) {
    const a = indices[3 * t];
    const b = indices[3 * t + 1];
    const c = indices[3 * t + 2];
    const ra = vertRegion[simple.sourceVert[a]];
    const rb = vertRegion[simple.sourceVert[b]];
    const rc = vertRegion[simple.sourceVert[c]];
    if (ra === rb && rb === rc) {
      labels[t] = ra;
      continue;
    }
    const middle = [0, 1, 2].map((k) => (p[3 * a + k] + p[3 * b + k] + p[3 * c + k]) / 3);
    const near = cut.triRegion[surface.closestPoint(middle as unknown as Vec3).tri];
    // On a triangle that a line crosses the corners decide: two of three, or any of them.
    labels[t] = near >= 0 ? near : rb === rc ? rb : ra;
  }
  return labels;
}
