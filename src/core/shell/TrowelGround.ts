import type { TriMesh } from '../mesh/TriMesh.ts';
import { vectorLength } from '../mesh/vectorLength.ts';

/**
 * The surface as the trowel meets it: points picked off S about `spacingMm` apart, and for each vertex of the mesh the
 * points that speak for it. Nothing in it depends on the coats.
 */
export interface TrowelGround {
  readonly spacingMm: number;
  /** count x 3, mm: each a point of S, the one nearest to the middle of its cluster. */
  readonly points: Float64Array;
  /** count x 3: mean outward normal of its cluster, unit length. */
  readonly normals: Float64Array;
  /** count x 3 vertices and their weights (sum 1): where on its triangle the point lies. */
  readonly corners: Uint32Array;
  readonly cornerShares: Float32Array;
  /** Vertex v is spoken for by points[speakers[s]] with weight shares[s], for s from starts[v] to starts[v + 1]; the weights sum to 1. None off S. */
  readonly starts: Uint32Array;
  readonly speakers: Uint32Array;
  readonly shares: Float32Array;
}

/** Directions of the normal that are kept apart when clustering: the two sides of a thin fin are two surfaces. */
const FACINGS = 6;

/**
 * Clusters S by cubes of `spacingMm` and by facing; triangles longer than the spacing are filled with points of their own.
 * O(vertices + area / spacing^2). Own.
 */
export function buildTrowelGround(mesh: TriMesh, isSurface: Uint8Array, spacingMm: number): TrowelGround {
  const { positions: p, indices } = mesh;
  const verts = p.length / 3;
  const vertNormals = new Float64Array(3 * verts);
  const isOn = new Uint8Array(verts);
  const dots: Dots = { at: [], corners: [], shares: [], normal: [] };
  for (let t = 0; t < isSurface.length; t++) {
    if (isSurface[t] === 0) continue;
    const a = indices[3 * t];
    const b = indices[3 * t + 1];
    const c = indices[3 * t + 2];
    const ux = p[3 * b] - p[3 * a];
    const uy = p[3 * b + 1] - p[3 * a + 1];
    const uz = p[3 * b + 2] - p[3 * a + 2];
    const vx = p[3 * c] - p[3 * a];
    const vy = p[3 * c + 1] - p[3 * a + 1];
    const vz = p[3 * c + 2] - p[3 * a + 2];
    const n = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    for (const v of [a, b, c]) {
      isOn[v] = 1;
      for (let k = 0; k < 3; k++) vertNormals[3 * v + k] += n[k];
    }
    const longest = Math.max(
      vectorLength(ux, uy, uz),
      vectorLength(vx, vy, vz),
      vectorLength(vx - ux, vy - uy, vz - uz),
    );
    if (longest > spacingMm) dotTriangle(p, [a, b, c], n, Math.ceil(longest / spacingMm), dots);
  }
  const clusters = new Clusters(p, spacingMm);
  const clusterOf = new Int32Array(verts).fill(-1);
  for (let v = 0; v < verts; v++) {
    if (isOn[v] === 1) clusterOf[v] = clusters.add(p, vertNormals, v);
  }
  const dotAt = Float64Array.from(dots.at);
  const dotNormal = Float64Array.from(dots.normal);
  const dotClusters = new Int32Array(dotAt.length / 3);
  for (let d = 0; d < dotClusters.length; d++) dotClusters[d] = clusters.add(dotAt, dotNormal, d);

  const count = clusters.count;
  const points = new Float64Array(3 * count);
  const corners = new Uint32Array(3 * count);
  const cornerShares = new Float32Array(3 * count);
  const nearest = new Float64Array(count).fill(Infinity);
  const offer = (
    cluster: number,
    from: Float64Array,
    i: number,
    of: readonly number[],
    shares: readonly number[],
  ) => {
    const distance = clusters.fromMiddle(cluster, from, i);
    if (distance >= nearest[cluster]) return;
    nearest[cluster] = distance;
    for (let k = 0; k < 3; k++) {
      points[3 * cluster + k] = from[3 * i + k];
      corners[3 * cluster + k] = of[k];
      cornerShares[3 * cluster + k] = shares[k];
    }
  };
  for (let v = 0; v < verts; v++) if (clusterOf[v] >= 0) offer(clusterOf[v], p, v, [v, v, v], [1, 0, 0]);
  for (let d = 0; d < dotClusters.length; d++) {
    offer(
      dotClusters[d],
      dotAt,
      d,
      dots.corners.slice(3 * d, 3 * d + 3),
      dots.shares.slice(3 * d, 3 * d + 3),
    );
  }
  return {
    spacingMm,
    points,
    normals: clusters.unitNormals(),
    corners,
    cornerShares,
    ...nameSpeakers(p, vertNormals, isOn, clusters, clusterOf),
  };
}

/** Points inside large triangles: place, corners, shares of the corners, area normal. */
interface Dots {
  readonly at: number[];
  readonly corners: number[];
  readonly shares: number[];
  readonly normal: number[];
}

/** Puts the middles of the n^2 parts of a triangle, each edge cut in n, among the dots. */
function dotTriangle(
  p: Float64Array,
  tri: readonly number[],
  normal: readonly number[],
  n: number,
  dots: Dots,
): void {
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n - i; j++) {
      for (let flipped = 0; flipped < (j < n - i - 1 ? 2 : 1); flipped++) {
        const third = (flipped + 1) / 3;
        const shares = [(i + third) / n, (j + third) / n, 0];
        shares[2] = 1 - shares[0] - shares[1];
        for (let k = 0; k < 3; k++) {
          dots.at.push(
            shares[0] * p[3 * tri[0] + k] + shares[1] * p[3 * tri[1] + k] + shares[2] * p[3 * tri[2] + k],
          );
          dots.corners.push(tri[k]);
          dots.shares.push(shares[k]);
          dots.normal.push(normal[k] / (n * n));
        }
      }
    }
  }
}

/** Cubes of the spacing, and in each one cluster for every facing. */
class Clusters {
  /** By cube: the number of its cluster of each facing, -1 for none. */
  private readonly cubes = new Map<number, Int32Array>();
  /** By cluster: sums of weight, place and normal, 7 numbers. */
  private readonly sums: number[] = [];
  private readonly origin: readonly [number, number, number];

  constructor(
    p: Float64Array,
    private readonly sizeMm: number,
  ) {
    const least = [Infinity, Infinity, Infinity];
    for (let i = 0; i < p.length; i++) least[i % 3] = Math.min(least[i % 3], p[i]);
    this.origin = [least[0] - sizeMm, least[1] - sizeMm, least[2] - sizeMm];
  }

  get count(): number {
    return this.sums.length / 7;
  }

  add(at: Float64Array, normals: Float64Array, i: number): number {
    const x = at[3 * i];
    const y = at[3 * i + 1];
    const z = at[3 * i + 2];
    const key = this.keyOf(this.cell(x, 0), this.cell(y, 1), this.cell(z, 2));
    let facings = this.cubes.get(key);
    if (facings === undefined) {
      facings = new Int32Array(FACINGS).fill(-1);
      this.cubes.set(key, facings);
    }
    const nx = normals[3 * i];
    const ny = normals[3 * i + 1];
    const nz = normals[3 * i + 2];
    const facing = facingOf(nx, ny, nz);
    if (facings[facing] < 0) {
      facings[facing] = this.count;
      this.sums.push(0, 0, 0, 0, 0, 0, 0);
    }
    const at7 = 7 * facings[facing];
    const weight = vectorLength(nx, ny, nz) + 1e-12;
    this.sums[at7] += weight;
    this.sums[at7 + 1] += weight * x;
    this.sums[at7 + 2] += weight * y;
    this.sums[at7 + 3] += weight * z;
    this.sums[at7 + 4] += nx;
    this.sums[at7 + 5] += ny;
    this.sums[at7 + 6] += nz;
    return facings[facing];
  }

  fromMiddle(cluster: number, at: Float64Array, i: number): number {
    const s = 7 * cluster;
    const weight = this.sums[s];
    return vectorLength(
      at[3 * i] - this.sums[s + 1] / weight,
      at[3 * i + 1] - this.sums[s + 2] / weight,
      at[3 * i + 2] - this.sums[s + 3] / weight,
    );
  }

  unitNormals(): Float64Array {
    const out = new Float64Array(3 * this.count);
    for (let c = 0; c < this.count; c++) {
      const [nx, ny, nz] = [this.sums[7 * c + 4], this.sums[7 * c + 5], this.sums[7 * c + 6]];
      const length = vectorLength(nx, ny, nz) || 1;
      out[3 * c] = nx / length;
      out[3 * c + 1] = ny / length;
      out[3 * c + 2] = nz / length;
    }
    return out;
  }

  cell(x: number, axis: number): number {
    return Math.floor((x - this.origin[axis]) / this.sizeMm);
  }

  /** Place in units of cubes, counted from the middle of the first. */
  inCubes(x: number, axis: number): number {
    return (x - this.origin[axis]) / this.sizeMm - 0.5;
  }

  at(i: number, j: number, k: number): Int32Array | undefined {
    return this.cubes.get(this.keyOf(i, j, k));
  }

  private keyOf(i: number, j: number, k: number): number {
    return (i * 0x10000 + j) * 0x10000 + k;
  }
}

/** The clusters of the eight cubes round each vertex that face its way, weighted by nearness and by how much they do. */
function nameSpeakers(
  p: Float64Array,
  normals: Float64Array,
  isOn: Uint8Array,
  clusters: Clusters,
  clusterOf: Int32Array,
): Pick<TrowelGround, 'starts' | 'speakers' | 'shares'> {
  const verts = isOn.length;
  const starts = new Uint32Array(verts + 1);
  const speakers: number[] = [];
  const shares: number[] = [];
  for (let v = 0; v < verts; v++) {
    starts[v] = speakers.length;
    if (isOn[v] === 0) continue;
    const nx = normals[3 * v];
    const ny = normals[3 * v + 1];
    const nz = normals[3 * v + 2];
    const length = vectorLength(nx, ny, nz) || 1;
    const u = clusters.inCubes(p[3 * v], 0);
    const w = clusters.inCubes(p[3 * v + 1], 1);
    const q = clusters.inCubes(p[3 * v + 2], 2);
    const i = Math.floor(u);
    const j = Math.floor(w);
    const k = Math.floor(q);
    let sum = 0;
    for (let corner = 0; corner < 8; corner++) {
      const di = corner & 1;
      const dj = (corner >> 1) & 1;
      const dk = corner >> 2;
      const found = clusters.at(i + di, j + dj, k + dk);
      if (found === undefined) continue;
      const near = (di ? u - i : 1 - u + i) * (dj ? w - j : 1 - w + j) * (dk ? q - k : 1 - q + k);
      for (let f = 0; f < FACINGS; f++) {
        if (found[f] < 0) continue;
        const along = (f < 2 ? nx : f < 4 ? ny : nz) * (f % 2 === 0 ? 1 : -1);
        const weight = (near * along) / length;
        if (weight < 0.02) continue;
        speakers.push(found[f]);
        shares.push(weight);
        sum += weight;
      }
    }
    if (sum === 0) {
      speakers.push(clusterOf[v]);
      shares.push(1);
      continue;
    }
    for (let s = starts[v]; s < shares.length; s++) shares[s] /= sum;
  }
  starts[verts] = speakers.length;
  return { starts, speakers: Uint32Array.from(speakers), shares: Float32Array.from(shares) };
}

function facingOf(x: number, y: number, z: number): number {
  const ax = Math.abs(x);
  const ay = Math.abs(y);
  const az = Math.abs(z);
  if (ax >= ay && ax >= az) return x > 0 ? 0 : 1;
  if (ay >= az) return y > 0 ? 2 : 3;
  return z > 0 ? 4 : 5;
}
