import { closestOnTriangle } from '../../field/closestOnTriangle.ts';
import type { SurfaceContext, SurfacePoint } from '../SurfaceContext.ts';

/** More triangles than a reach of some millimetres holds on any scan; keeps a wild reach from walking the whole mould. */
const MOST_TRIS = 20_000;

/** The part of S about a point, with normals at its vertices. */
export interface SurfacePatch {
  /** Triangles with a corner within the reach (or holding the point), nearest rings first, then one ring more. */
  readonly tris: readonly number[];
  /** The first `innerCount` of them are those within the reach; the normals of their corners are complete. */
  readonly innerCount: number;
  /** By vertex: unit normal, x y z; mean of the triangles' normals weighted with their angles there. */
  readonly normals: ReadonlyMap<number, Float64Array>;
  /** By triangle: unit normal, x y z. */
  readonly triNormals: ReadonlyMap<number, Float64Array>;
}

/**
 * S about a point as far as it can be walked within `reachMm` (straight distance), so that a wall's far side is never in it.
 * Weights by angle: G. Thuermer & C. Wuethrich (1998), "Computing vertex normals from polygonal facets". O(patch).
 */
export function growPatch(surface: SurfaceContext, at: SurfacePoint, reachMm: number): SurfacePatch {
  const { positions: p, indices, links, triStamp } = surface;
  const generation = surface.nextGeneration();
  const reach2 = reachMm * reachMm;
  const nearest = new Float64Array(4);
  const isNear = (t: number): boolean => {
    for (let k = 0; k < 3; k++) {
      const v = 3 * indices[3 * t + k];
      if ((p[v] - at.x) ** 2 + (p[v + 1] - at.y) ** 2 + (p[v + 2] - at.z) ** 2 <= reach2) return true;
    }
    // A triangle larger than the reach may come near with its middle only.
    closestOnTriangle(p, indices, t, at.x, at.y, at.z, nearest);
    return nearest[3] <= reach2;
  };
  const tris = [at.tri];
  triStamp[at.tri] = generation;
  for (let n = 0; n < tris.length && tris.length < MOST_TRIS; n++) {
    for (let h = 3 * tris[n]; h < 3 * tris[n] + 3; h++) {
      if (links[h] < 0) continue;
      const t = (links[h] / 3) | 0;
      if (triStamp[t] === generation || !isNear(t)) continue;
      triStamp[t] = generation;
      tris.push(t);
    }
  }
  const innerCount = tris.length;
  // All triangles round the inner ones' corners: twice over the edges, since a fan may hang on by a neighbour's neighbour.
  const corners = new Set<number>();
  for (const t of tris) for (let k = 0; k < 3; k++) corners.add(indices[3 * t + k]);
  for (let n = 0; n < tris.length; n++) {
    for (let h = 3 * tris[n]; h < 3 * tris[n] + 3; h++) {
      if (links[h] < 0) continue;
      const t = (links[h] / 3) | 0;
      if (triStamp[t] === generation) continue;
      const touches =
        corners.has(indices[3 * t]) || corners.has(indices[3 * t + 1]) || corners.has(indices[3 * t + 2]);
      if (!touches) continue;
      triStamp[t] = generation;
      tris.push(t);
    }
  }
  return { tris, innerCount, ...measureNormals(p, indices, tris) };
}

function measureNormals(
  p: Float64Array,
  indices: Uint32Array,
  tris: readonly number[],
): { normals: Map<number, Float64Array>; triNormals: Map<number, Float64Array> } {
  const normals = new Map<number, Float64Array>();
  const triNormals = new Map<number, Float64Array>();
  for (const t of tris) {
    const n = new Float64Array(3);
    const i = 3 * indices[3 * t];
    const j = 3 * indices[3 * t + 1];
    const k = 3 * indices[3 * t + 2];
    const ux = p[j] - p[i];
    const uy = p[j + 1] - p[i + 1];
    const uz = p[j + 2] - p[i + 2];
    const vx = p[k] - p[i];
    const vy = p[k + 1] - p[i + 1];
    const vz = p[k + 2] - p[i + 2];
    n[0] = uy * vz - uz * vy;
    n[1] = uz * vx - ux * vz;
    n[2] = ux * vy - uy * vx;
    const twice = Math.sqrt(n[0] * n[0] + n[1] * n[1] + n[2] * n[2]);
    if (twice > 0) for (let c = 0; c < 3; c++) n[c] /= twice;
    triNormals.set(t, n);
    const wx = vx - ux;
    const wy = vy - uy;
    const wz = vz - uz;
    const atI = Math.atan2(twice, ux * vx + uy * vy + uz * vz);
    const atJ = Math.atan2(twice, -(ux * wx + uy * wy + uz * wz));
    const angles = [atI, atJ, Math.PI - atI - atJ];
    for (let c = 0; c < 3; c++) {
      const v = indices[3 * t + c];
      let sum = normals.get(v);
      if (!sum) {
        sum = new Float64Array(3);
        normals.set(v, sum);
      }
      for (let a = 0; a < 3; a++) sum[a] += angles[c] * n[a];
    }
  }
  for (const sum of normals.values()) {
    const length = Math.sqrt(sum[0] * sum[0] + sum[1] * sum[1] + sum[2] * sum[2]);
    if (length > 0) for (let a = 0; a < 3; a++) sum[a] /= length;
  }
  return { normals, triNormals };
}
