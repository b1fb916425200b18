import type { Vec3 } from '../../mesh/TriMesh.ts';
import type { SurfaceContext, SurfacePoint } from '../SurfaceContext.ts';
import type { SurfacePatch } from './growPatch.ts';
import { nearestOnSegment } from './nearestOnSegment.ts';

/**
 * A facing (cosine between normal and pull) this small counts as zero and as facing away: rounding in the normals of a
 * plumb wall must not draw lines over it.
 */
const PLUMB_COSINE = 1e-9;

/**
 * The point nearest to `at` at which the surface turns from facing the pull to facing away: on the zero line of the facing,
 * which is linear in each triangle between its vertices' normals. Null where it does not turn within the patch.
 *
 * Source: A. Hertzmann & D. Zorin (2000), "Illustrating smooth surfaces", SIGGRAPH, section 4 (smooth silhouettes on
 * meshes). On a plumb wall that starts at an edge the line lies where the wall ends or begins. O(patch).
 */
export function findSilhouette(
  surface: SurfaceContext,
  patch: SurfacePatch,
  at: SurfacePoint,
  pull: Vec3,
): SurfacePoint | null {
  const { indices, positions: p } = surface;
  const facing = (v: number): number => {
    const n = patch.normals.get(v);
    if (!n) return Number.NaN;
    const f = n[0] * pull[0] + n[1] * pull[1] + n[2] * pull[2];
    return Math.abs(f) <= PLUMB_COSINE ? 0 : f;
  };
  let best = Infinity;
  let bestTri = -1;
  let bestWeights: Vec3 = [1, 0, 0];
  for (let n = 0; n < patch.innerCount; n++) {
    const t = patch.tris[n];
    const f = [facing(indices[3 * t]), facing(indices[3 * t + 1]), facing(indices[3 * t + 2])];
    // Both crossed edges meet at the corner that is alone on its side.
    const away = f.map((x) => (x > 0 ? 0 : 1));
    const awayCount = away[0] + away[1] + away[2];
    if (awayCount === 0 || awayCount === 3) continue;
    const alone = away.indexOf(awayCount === 1 ? 1 : 0);
    const next = (alone + 1) % 3;
    const before = (alone + 2) % 3;
    const toNext = f[alone] / (f[alone] - f[next]);
    const toBefore = f[alone] / (f[alone] - f[before]);
    const place = (k: number, share: number): Vec3 => {
      const a = 3 * indices[3 * t + alone];
      const b = 3 * indices[3 * t + k];
      return [
        p[a] + share * (p[b] - p[a]),
        p[a + 1] + share * (p[b + 1] - p[a + 1]),
        p[a + 2] + share * (p[b + 2] - p[a + 2]),
      ];
    };
    const near = nearestOnSegment(place(next, toNext), place(before, toBefore), [at.x, at.y, at.z]);
    if (near.distanceMm >= best) continue;
    best = near.distanceMm;
    bestTri = t;
    const weights: [number, number, number] = [0, 0, 0];
    weights[next] = (1 - near.share) * toNext;
    weights[before] = near.share * toBefore;
    weights[alone] = 1 - weights[next] - weights[before];
    bestWeights = weights;
  }
  return bestTri < 0 ? null : surface.pointFromWeights(bestTri, ...bestWeights);
}
