import { type TriMesh, vertCount } from '../mesh/TriMesh.ts';
import { vectorLength } from '../mesh/vectorLength.ts';

/** Curvature of S at the scale of a coat, per vertex. Ridges positive. */
export interface VertexCurvature {
  /** Mean curvature H, 1/mm. */
  readonly meanPerMm: Float64Array;
  /** Gaussian curvature K, 1/mm2. */
  readonly gaussPerMm2: Float64Array;
  /** Area of S that the vertex stands for, mm2; 0 for vertices off S. */
  readonly areaMm2: Float64Array;
}

/** Directions of the normal that are kept apart when averaging: the two sides of a thin fin must not cancel. */
const FACINGS: readonly (readonly [number, number, number])[] = [
  [1, 0, 0],
  [-1, 0, 0],
  [0, 1, 0],
  [0, -1, 0],
  [0, 0, 1],
  [0, 0, -1],
];

/** Area, H area, K area. */
const SUMS = 3;

/**
 * Mean and Gaussian curvature averaged over a neighbourhood of about `scaleMm`, by normal cycles: H area = a quarter of
 * the sum of edge length times signed turning angle over the edges of a vertex, K area = the angle defect. Borders give
 * no defect. O(n), whatever the scale: sums are gathered in buckets of the scale's size.
 *
 * Source: D. Cohen-Steiner and J.-M. Morvan, "Restricted Delaunay triangulations and normal cycle", SoCG 2003.
 */
export function measureCurvature(
  mesh: TriMesh,
  twins: Int32Array,
  isSurface: Uint8Array,
  scaleMm: number,
): VertexCurvature {
  const { positions, indices } = mesh;
  const verts = vertCount(mesh);
  const tris = isSurface.length;
  const faceNormals = new Float64Array(3 * tris);
  const vertNormals = new Float64Array(3 * verts);
  const area = new Float64Array(verts);
  const mean = new Float64Array(verts);
  const defect = new Float64Array(verts).fill(2 * Math.PI);
  const isBorder = new Uint8Array(verts);

  // Areas, normals and corner angles.
  for (let t = 0; t < tris; t++) {
    if (isSurface[t] === 0) continue;
    const corners = [indices[3 * t] * 3, indices[3 * t + 1] * 3, indices[3 * t + 2] * 3];
    const [a, b, c] = corners;
    const ux = positions[b] - positions[a];
    const uy = positions[b + 1] - positions[a + 1];
    const uz = positions[b + 2] - positions[a + 2];
    const vx = positions[c] - positions[a];
    const vy = positions[c + 1] - positions[a + 1];
    const vz = positions[c + 2] - positions[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const twice = vectorLength(nx, ny, nz);
    const scale = twice > 0 ? 1 / twice : 0;
    faceNormals[3 * t] = nx * scale;
    faceNormals[3 * t + 1] = ny * scale;
    faceNormals[3 * t + 2] = nz * scale;
    for (let k = 0; k < 3; k++) {
      const v = corners[k] / 3;
      area[v] += twice / 6;
      vertNormals[3 * v] += nx;
      vertNormals[3 * v + 1] += ny;
      vertNormals[3 * v + 2] += nz;
      defect[v] -= cornerAngle(positions, corners[k], corners[(k + 1) % 3], corners[(k + 2) % 3]);
    }
  }

  // Turning angle of every edge, once a pair of twins.
  for (let e = 0; e < 3 * tris; e++) {
    const t = (e / 3) | 0;
    if (isSurface[t] === 0) continue;
    const from = indices[e];
    const to = indices[3 * t + ((e + 1) % 3)];
    const twin = twins[e];
    const other = twin < 0 ? -1 : (twin / 3) | 0;
    if (other < 0 || isSurface[other] === 0) {
      isBorder[from] = 1;
      isBorder[to] = 1;
      continue;
    }
    if (twin < e) continue;
    const ex = positions[3 * to] - positions[3 * from];
    const ey = positions[3 * to + 1] - positions[3 * from + 1];
    const ez = positions[3 * to + 2] - positions[3 * from + 2];
    const length = vectorLength(ex, ey, ez);
    if (length === 0) continue;
    const ax = faceNormals[3 * t];
    const ay = faceNormals[3 * t + 1];
    const az = faceNormals[3 * t + 2];
    const bx = faceNormals[3 * other];
    const by = faceNormals[3 * other + 1];
    const bz = faceNormals[3 * other + 2];
    const sine = ((ay * bz - az * by) * ex + (az * bx - ax * bz) * ey + (ax * by - ay * bx) * ez) / length;
    const angle = Math.atan2(sine, ax * bx + ay * by + az * bz);
    // Half the edge's length * angle is its integral of H; each end gets half of that.
    mean[from] += (length * angle) / 4;
    mean[to] += (length * angle) / 4;
  }
  for (let v = 0; v < verts; v++) if (isBorder[v] === 1 || area[v] === 0) defect[v] = 0;

  return averageOver(positions, vertNormals, area, mean, defect, scaleMm);
}

function cornerAngle(p: Float64Array, at: number, b: number, c: number): number {
  const ux = p[b] - p[at];
  const uy = p[b + 1] - p[at + 1];
  const uz = p[b + 2] - p[at + 2];
  const vx = p[c] - p[at];
  const vy = p[c + 1] - p[at + 1];
  const vz = p[c + 2] - p[at + 2];
  const cross = vectorLength(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx);
  return Math.atan2(cross, ux * vx + uy * vy + uz * vz);
}

/** Weighted means over the buckets round each vertex, among facings that look its way. */
function averageOver(
  positions: Float64Array,
  normals: Float64Array,
  area: Float64Array,
  mean: Float64Array,
  defect: Float64Array,
  scaleMm: number,
): VertexCurvature {
  const verts = area.length;
  const buckets = new Map<number, Float64Array>();
  const size = FACINGS.length * SUMS;
  for (let v = 0; v < verts; v++) {
    if (area[v] === 0) continue;
    const key = bucketKey(positions, v, scaleMm, 0, 0, 0);
    let sums = buckets.get(key);
    if (sums === undefined) {
      sums = new Float64Array(size);
      buckets.set(key, sums);
    }
    const at = facing(normals, v) * SUMS;
    sums[at] += area[v];
    sums[at + 1] += mean[v];
    sums[at + 2] += defect[v];
  }
  const meanPerMm = new Float64Array(verts);
  const gaussPerMm2 = new Float64Array(verts);
  for (let v = 0; v < verts; v++) {
    if (area[v] === 0) continue;
    const length = vectorLength(normals[3 * v], normals[3 * v + 1], normals[3 * v + 2]) || 1;
    let sumArea = area[v] * 1e-9;
    let sumMean = 0;
    let sumDefect = 0;
    for (let dk = -1; dk <= 1; dk++) {
      for (let dj = -1; dj <= 1; dj++) {
        for (let di = -1; di <= 1; di++) {
          const sums = buckets.get(bucketKey(positions, v, scaleMm, di, dj, dk));
          if (sums === undefined) continue;
          const near =
            hat(positions[3 * v], scaleMm, di) *
            hat(positions[3 * v + 1], scaleMm, dj) *
            hat(positions[3 * v + 2], scaleMm, dk);
          for (let f = 0; f < FACINGS.length; f++) {
            const dot =
              (normals[3 * v] * FACINGS[f][0] +
                normals[3 * v + 1] * FACINGS[f][1] +
                normals[3 * v + 2] * FACINGS[f][2]) /
              length;
            if (dot <= 0) continue;
            const weight = near * dot;
            sumArea += weight * sums[f * SUMS];
            sumMean += weight * sums[f * SUMS + 1];
            sumDefect += weight * sums[f * SUMS + 2];
          }
        }
      }
    }
    meanPerMm[v] = sumMean / sumArea;
    gaussPerMm2[v] = sumDefect / sumArea;
  }
  return { meanPerMm, gaussPerMm2, areaMm2: area };
}

/** Linear weight of a neighbouring bucket by how near its middle is to the coordinate; 1 at the middle, 0 at 1.5 buckets. */
function hat(x: number, scaleMm: number, step: number): number {
  const u = x / scaleMm - Math.floor(x / scaleMm) - 0.5;
  return Math.max(0, 1 - Math.abs(step - u) / 1.5);
}

function bucketKey(p: Float64Array, v: number, s: number, di: number, dj: number, dk: number): number {
  const i = Math.floor(p[3 * v] / s) + di;
  const j = Math.floor(p[3 * v + 1] / s) + dj;
  const k = Math.floor(p[3 * v + 2] / s) + dk;
  return ((i & 0x1ffff) * 0x20000 + (j & 0x1ffff)) * 0x20000 + (k & 0x1ffff);
}

/** The facing nearest to the vertex's normal. */
function facing(n: Float64Array, v: number): number {
  const x = n[3 * v];
  const y = n[3 * v + 1];
  const z = n[3 * v + 2];
  const ax = Math.abs(x);
  const ay = Math.abs(y);
  const az = Math.abs(z);
  if (ax >= ay && ax >= az) return x > 0 ? 0 : 1;
  if (ay >= az) return y > 0 ? 2 : 3;
  return z > 0 ? 4 : 5;
}
