import { SurfaceTree } from '../spatial/SurfaceTree.ts';
import { nextInTri } from './halfEdges.ts';
import { measureLoop } from './measureLoop.ts';
import type { TriMesh } from './TriMesh.ts';
import { traceLoops } from './traceLoops.ts';

/** A part encloses something when its volume, lids included, is at least this share of its area to the power 3/2 (sphere: 0.094). */
const LEAST_FULLNESS = 1e-3;
/** Faces of a part that send rays, and rays to each side of a face. */
const RAY_FACES = 48;
/** Directions of the rays about the normal: straight, and leaning by about 40 degrees to four sides. */
const LEANS: readonly (readonly [number, number])[] = [
  [0, 0],
  [0.85, 0],
  [-0.85, 0],
  [0, 0.85],
  [0, -0.85],
];

/**
 * Which components are wound inside out: one entry a part, 1 = to be turned over.
 *
 * A closed part, and the largest open one, is judged by its signed volume with a lid over each open loop. Any other open
 * patch may be hollow either way: rays from both sides of its faces vote, and the side that sees more of the open is
 * outside (after Takayama, Jacobson, Kavan and Sorkine-Hornung 2014, from memory). On a tie, and for small open crumbs,
 * most of the part's faces keep the winding they had in the file; `isTurned` says which have not.
 */
export function voteOutward(
  mesh: TriMesh,
  twins: Int32Array,
  parts: Int32Array,
  partCount: number,
  isTurned: Uint8Array,
): Uint8Array {
  const { areas, volumes, isOpen } = measureParts(mesh, twins, parts, partCount);
  const isInsideOut = new Uint8Array(partCount);
  let largest = 0;
  for (let part = 1; part < partCount; part++) if (areas[part] > areas[largest]) largest = part;
  // Faces wound as in the file less those that were not.
  const kept = new Int32Array(partCount);
  for (let t = 0; t < parts.length; t++) kept[parts[t]] += isTurned[t] !== 0 ? -1 : 1;
  let tree: SurfaceTree | null = null;
  for (let part = 0; part < partCount; part++) {
    const isFull = Math.abs(volumes[part]) >= LEAST_FULLNESS * areas[part] ** 1.5;
    let verdict = 0;
    if (isOpen[part] === 0 || (part === largest && isFull)) {
      verdict = volumes[part];
    } else if (areas[part] >= RAY_AREA_SHARE * areas[largest]) {
      tree ??= new SurfaceTree(mesh);
      verdict = sidesInTheOpen(mesh, tree, parts, part);
    }
    if (verdict === 0) verdict = kept[part];
    isInsideOut[part] = verdict < 0 ? 1 : 0;
  }
  return isInsideOut;
}

/** Patches below this share of the largest part's area are crumbs as a rule and not worth rays. */
const RAY_AREA_SHARE = 1e-3;

/** Area, signed volume with a fan over each open loop (about the part's own first vertex), and openness, by part. */
export function measureParts(
  mesh: TriMesh,
  twins: Int32Array,
  parts: Int32Array,
  partCount: number,
): { areas: Float64Array; volumes: Float64Array; isOpen: Uint8Array } {
  const { positions: p, indices } = mesh;
  const areas = new Float64Array(partCount);
  const volumes = new Float64Array(partCount);
  const isOpen = new Uint8Array(partCount);
  const origins = new Float64Array(3 * partCount);
  const hasOrigin = new Uint8Array(partCount);
  const count = indices.length / 3;
  for (let t = 0; t < count; t++) {
    const part = parts[t];
    const a = 3 * indices[3 * t];
    const b = 3 * indices[3 * t + 1];
    const c = 3 * indices[3 * t + 2];
    if (hasOrigin[part] === 0) {
      hasOrigin[part] = 1;
      for (let k = 0; k < 3; k++) origins[3 * part + k] = p[a + k];
    }
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a];
    const vy = p[c + 1] - p[a + 1];
    const vz = p[c + 2] - p[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    areas[part] += Math.sqrt(nx * nx + ny * ny + nz * nz) / 2;
    volumes[part] +=
      ((p[a] - origins[3 * part]) * nx +
        (p[a + 1] - origins[3 * part + 1]) * ny +
        (p[a + 2] - origins[3 * part + 2]) * nz) /
      6;
  }
  for (const halfEdges of traceLoops(twins)) {
    const loop = measureLoop(mesh, halfEdges);
    const part = parts[(halfEdges[0] / 3) | 0];
    isOpen[part] = 1;
    // The fan's cones over the loop's centre: their area vectors sum to the lid, all through the centre.
    for (let k = 0; k < 3; k++) volumes[part] += ((loop.centre[k] - origins[3 * part + k]) * loop.lid[k]) / 3;
  }
  return { areas, volumes, isOpen };
}

/** Rays that get away from the front of the part's faces less those from their back, over its sampled faces. */
function sidesInTheOpen(mesh: TriMesh, tree: SurfaceTree, parts: Int32Array, part: number): number {
  const { positions: p, indices } = mesh;
  const own: number[] = [];
  for (let t = 0; t < parts.length; t++) if (parts[t] === part) own.push(t);
  const step = Math.max(1, Math.floor(own.length / RAY_FACES));
  let balance = 0;
  for (let n = 0; n < own.length; n += step) {
    const e = 3 * own[n];
    const a = 3 * indices[e];
    const b = 3 * indices[nextInTri(e)];
    const c = 3 * indices[nextInTri(nextInTri(e))];
    const u = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const v = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const normal = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const area = Math.hypot(normal[0], normal[1], normal[2]);
    const length = Math.hypot(u[0], u[1], u[2]);
    const n1 = normal.map((x) => x / area);
    const t1 = u.map((x) => x / length);
    const t2 = [n1[1] * t1[2] - n1[2] * t1[1], n1[2] * t1[0] - n1[0] * t1[2], n1[0] * t1[1] - n1[1] * t1[0]];
    // Off the face by a thousandth of its own size, so that a ray does not meet the face it starts from.
    const lift = 1e-3 * Math.sqrt(area);
    for (const side of [1, -1]) {
      const origin = [0, 1, 2].map((k) => (p[a + k] + p[b + k] + p[c + k]) / 3 + side * lift * n1[k]);
      for (const [lean1, lean2] of LEANS) {
        const way = [0, 1, 2].map((k) => side * n1[k] + lean1 * t1[k] + lean2 * t2[k]);
        const norm = Math.hypot(way[0], way[1], way[2]);
        const hit = tree.firstHit(
          [origin[0], origin[1], origin[2]],
          [way[0] / norm, way[1] / norm, way[2] / norm],
        );
        if (hit === null) balance += side;
      }
    }
  }
  return balance;
}
