import { writeNormal } from '../../mesh/writeNormal.ts';
import { leastRectangle } from './leastRectangle.ts';
import { type MouldFill, pressureAt } from './MouldFill.ts';

/** The largest patch of a piece that faces nearly one way: what stands in for a flat panel. */
export interface FlatPatch {
  readonly areaMm2: number;
  /** Sides of the smallest rectangle around it, seen square on. */
  readonly longMm: number;
  readonly shortMm: number;
  /** The highest on it. */
  readonly pressurePa: number;
}

/** Normals up to this angle from the patch's own direction belong to it: a panel bowed by a fifteenth of its width. Own choice. */
export const FLATTISH_DEG = 15;
const FLATTISH_COS = Math.cos((FLATTISH_DEG * Math.PI) / 180);

/** Directions are counted on an octahedron unfolded to a square of so many cells a side, about 8 degrees each. */
const BINS_A_SIDE = 24;

/**
 * Each piece's largest flattish patch under pressure, null for one that nothing presses on: the direction that most of its area
 * faces to within FLATTISH_DEG, then the largest part of that area that hangs together.
 * Cost: three passes over the triangles, and for each piece the square of the directions that occur.
 * Source: own; octahedral map of directions: Cigolle and others, Survey of Efficient Representations for
 * Independent Unit Vectors, 2014, from memory.
 */
export function findFlatPatches(
  positions: Float64Array,
  indices: Uint32Array,
  triRegion: Int32Array,
  regionCount: number,
  fill: MouldFill,
): (FlatPatch | null)[] {
  const triCount = triRegion.length;
  const bins = BINS_A_SIDE * BINS_A_SIDE;
  // For each region and bin: the sum of the area vectors that point there.
  const sums = new Float64Array(regionCount * bins * 3);
  const normal = new Float64Array(4);
  for (let t = 0; t < triCount; t++) {
    const region = triRegion[t];
    if (region < 0 || !writeWetNormal(positions, indices, t, fill, normal)) continue;
    const at = 3 * (region * bins + binOf(normal[0], normal[1], normal[2]));
    for (let k = 0; k < 3; k++) sums[at + k] += normal[k] * normal[3];
  }
  const directions = new Float64Array(3 * regionCount);
  for (let region = 0; region < regionCount; region++) {
    writeBusiestDirection(sums.subarray(region * bins * 3, (region + 1) * bins * 3), directions, 3 * region);
  }
  // Triangles of the patch hang together over their corners.
  const parent = new Int32Array(positions.length / 3).fill(-1);
  const isFlat = new Uint8Array(triCount);
  for (let t = 0; t < triCount; t++) {
    const region = triRegion[t];
    if (region < 0 || !writeWetNormal(positions, indices, t, fill, normal)) continue;
    const d = 3 * region;
    const cos = normal[0] * directions[d] + normal[1] * directions[d + 1] + normal[2] * directions[d + 2];
    if (cos < FLATTISH_COS) continue;
    isFlat[t] = 1;
    unite(parent, indices[3 * t], indices[3 * t + 1]);
    unite(parent, indices[3 * t], indices[3 * t + 2]);
  }
  const areas = new Map<number, number>();
  for (let t = 0; t < triCount; t++) {
    if (isFlat[t] === 0) continue;
    writeWetNormal(positions, indices, t, fill, normal);
    const key = rootOf(parent, indices[3 * t]) * regionCount + triRegion[t];
    areas.set(key, (areas.get(key) ?? 0) + normal[3]);
  }
  const largest = new Array<number>(regionCount).fill(-1);
  for (const [key, areaMm2] of areas) {
    const region = key % regionCount;
    if (largest[region] < 0 || areaMm2 > (areas.get(largest[region]) ?? 0)) largest[region] = key;
  }
  return largest.map((key, region) => (key < 0 ? null : patchOf(key, region)));

  function patchOf(key: number, region: number): FlatPatch {
    const [u, v] = axesAcross(directions.subarray(3 * region, 3 * region + 3));
    const isTaken = new Uint8Array(positions.length / 3);
    const points: [number, number][] = [];
    let pressurePa = 0;
    for (let t = 0; t < triCount; t++) {
      if (isFlat[t] === 0 || triRegion[t] !== region) continue;
      if (rootOf(parent, indices[3 * t]) * regionCount + region !== key) continue;
      for (let k = 0; k < 3; k++) {
        const vert = indices[3 * t + k];
        if (isTaken[vert] === 1) continue;
        isTaken[vert] = 1;
        const x = positions[3 * vert];
        const y = positions[3 * vert + 1];
        const z = positions[3 * vert + 2];
        points.push([x * u[0] + y * u[1] + z * u[2], x * v[0] + y * v[1] + z * v[2]]);
        pressurePa = Math.max(pressurePa, pressureAt(fill, z));
      }
    }
    const [longMm, shortMm] = leastRectangle(points);
    return { areaMm2: areas.get(key) ?? 0, longMm, shortMm, pressurePa };
  }
}

/** Writes unit normal and area (mm2) of a triangle whose middle is under the level; false for others and for those without area. */
function writeWetNormal(
  p: Float64Array,
  indices: Uint32Array,
  t: number,
  fill: MouldFill,
  out: Float64Array,
): boolean {
  const a = indices[3 * t];
  const b = indices[3 * t + 1];
  const c = indices[3 * t + 2];
  const middleMm = (p[3 * a + 2] + p[3 * b + 2] + p[3 * c + 2]) / 3;
  if (fill.depthPerMm * middleMm + fill.depthAtBoardMm <= 0) return false;
  const twice = writeNormal(p, a, b, c, out);
  if (!(twice > 0)) return false;
  out[0] /= twice;
  out[1] /= twice;
  out[2] /= twice;
  out[3] = twice / 2;
  return true;
}

/** Bin of a unit vector: the octahedron |x| + |y| + |z| = 1 unfolded to a square. */
function binOf(x: number, y: number, z: number): number {
  const sum = Math.abs(x) + Math.abs(y) + Math.abs(z);
  let s = x / sum;
  let t = y / sum;
  if (z < 0) {
    const keep = s;
    s = (1 - Math.abs(t)) * (keep < 0 ? -1 : 1);
    t = (1 - Math.abs(keep)) * (t < 0 ? -1 : 1);
  }
  const column = Math.min(BINS_A_SIDE - 1, Math.floor(((s + 1) / 2) * BINS_A_SIDE));
  const row = Math.min(BINS_A_SIDE - 1, Math.floor(((t + 1) / 2) * BINS_A_SIDE));
  return row * BINS_A_SIDE + column;
}

/** Writes the direction around which most area faces, among the mean directions of the bins; zeros when all are empty. */
function writeBusiestDirection(sums: Float64Array, out: Float64Array, at: number): void {
  const used: number[] = [];
  const lengths: number[] = [];
  for (let i = 0; i < sums.length; i += 3) {
    const length = Math.hypot(sums[i], sums[i + 1], sums[i + 2]);
    if (length === 0) continue;
    used.push(i);
    lengths.push(length);
  }
  let most = 0;
  for (let n = 0; n < used.length; n++) {
    const i = used[n];
    let vx = 0;
    let vy = 0;
    let vz = 0;
    for (let m = 0; m < used.length; m++) {
      const j = used[m];
      const dot = sums[i] * sums[j] + sums[i + 1] * sums[j + 1] + sums[i + 2] * sums[j + 2];
      if (dot < FLATTISH_COS * lengths[n] * lengths[m]) continue;
      vx += sums[j];
      vy += sums[j + 1];
      vz += sums[j + 2];
    }
    const area = Math.hypot(vx, vy, vz);
    if (area <= most) continue;
    most = area;
    out[at] = vx / area;
    out[at + 1] = vy / area;
    out[at + 2] = vz / area;
  }
}

/** Two unit vectors square to a direction and to each other. */
function axesAcross(d: Float64Array): [readonly number[], readonly number[]] {
  // The axis that lies farthest from d gives the steadiest cross product.
  const k = [0, 1, 2].reduce((least, n) => (Math.abs(d[n]) < Math.abs(d[least]) ? n : least), 0);
  const e = [0, 0, 0];
  e[k] = 1;
  const u = [d[1] * e[2] - d[2] * e[1], d[2] * e[0] - d[0] * e[2], d[0] * e[1] - d[1] * e[0]];
  const length = Math.hypot(u[0], u[1], u[2]);
  for (let n = 0; n < 3; n++) u[n] /= length;
  return [u, [d[1] * u[2] - d[2] * u[1], d[2] * u[0] - d[0] * u[2], d[0] * u[1] - d[1] * u[0]]];
}

function rootOf(parent: Int32Array, v: number): number {
  let root = v;
  while (parent[root] >= 0) root = parent[root];
  while (parent[v] >= 0) {
    const next = parent[v];
    parent[v] = root;
    v = next;
  }
  return root;
}

/** Roots hold the negative of their size, so that the smaller tree hangs under the larger. */
function unite(parent: Int32Array, a: number, b: number): void {
  const x = rootOf(parent, a);
  const y = rootOf(parent, b);
  if (x === y) return;
  const [large, small] = parent[x] <= parent[y] ? [x, y] : [y, x];
  parent[large] += parent[small];
  parent[small] = large;
}
