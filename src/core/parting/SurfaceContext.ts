import FlatQueue from 'flatqueue';
import { PlanError } from '../errors.ts';
import type { PreparedScan } from '../mesh/PreparedScan.ts';
import type { Vec3 } from '../mesh/TriMesh.ts';
import type { PickTree } from '../spatial/pickTree.ts';
import { newClosestPoint, SurfaceTree } from '../spatial/SurfaceTree.ts';
import { SurfaceTiles } from './SurfaceTiles.ts';

/**
 * A barycentric weight below this counts as zero: the point is moved onto the edge or vertex. Far below any scan's
 * accuracy, far above rounding, so that a cut never makes a triangle that rounding turns over.
 */
export const SNAP_SHARE = 1e-6;

/** Border vertices this close to the board, as a share of the surface's diagonal, count as standing on it. */
const RIM_SHARE = 1e-6;

/** A point of S. `b0 b1 b2` weigh the corners of `tri`; exact zeros tell an edge (one zero) or a vertex (two). */
export interface SurfacePoint {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly tri: number;
  readonly b0: number;
  readonly b1: number;
  readonly b2: number;
}

/**
 * S as lines are drawn on it: neighbours, rim, nearest-point tree, and the scratch that path searches use again and
 * again. Made once per prepared scan: O(n), about 80 ms for 100 000 triangles. Not for use by two callers at once.
 */
export class SurfaceContext {
  readonly positions: Float64Array;
  readonly indices: Uint32Array;
  readonly triCount: number;
  readonly vertCount: number;
  readonly isSurface: Uint8Array;
  /** Per half-edge of S the opposite half-edge in S; -1 where S ends (rim, hole) and for triangles off S. */
  readonly links: Int32Array;
  /** Half-edges of S on the rim: next to the base cap or in z = 0; every border when there is no board. */
  readonly rim: Int32Array;
  /** Per vertex: 1 on the rim. */
  readonly isOnRim: Uint8Array;
  /** Vertices on the border of a hole (not of the rim), each with a number that its whole hole shares. */
  readonly holeOfVertex: ReadonlyMap<number, number>;
  /** For such a vertex the half-edge of S that starts there and runs along the hole. */
  readonly holeHalfFrom: ReadonlyMap<number, number>;
  /** Diagonal of the box around S, mm. */
  readonly diagonalMm: number;
  readonly standsOnBoard: boolean;

  /** Scratch of the path search, valid where `stamp` equals the generation. */
  readonly cost: Float64Array;
  readonly from: Int32Array;
  readonly stamp: Int32Array;
  readonly triStamp: Int32Array;
  readonly triValue: Int32Array;
  readonly queue = new FlatQueue<number>();
  private generation = 0;
  private tree: SurfaceTree | undefined;
  private treeTris: Uint32Array | undefined;
  private tiled: SurfaceTiles | undefined;
  private readonly hit = newClosestPoint();

  constructor(readonly scan: PreparedScan) {
    const { mesh, twins, isSurface } = scan;
    const { positions, indices } = mesh;
    this.positions = positions;
    this.indices = indices;
    this.isSurface = isSurface;
    this.triCount = indices.length / 3;
    this.vertCount = positions.length / 3;
    this.standsOnBoard = scan.standsOnBoard;
    const half = indices.length;
    this.links = new Int32Array(half);
    let minX = Infinity;
    let minY = Infinity;
    let minZ = Infinity;
    let maxX = -Infinity;
    let maxY = -Infinity;
    let maxZ = -Infinity;
    for (let i = 0; i < positions.length; i += 3) {
      minX = Math.min(minX, positions[i]);
      maxX = Math.max(maxX, positions[i]);
      minY = Math.min(minY, positions[i + 1]);
      maxY = Math.max(maxY, positions[i + 1]);
      minZ = Math.min(minZ, positions[i + 2]);
      maxZ = Math.max(maxZ, positions[i + 2]);
    }
    this.diagonalMm = Math.hypot(maxX - minX, maxY - minY, maxZ - minZ);
    const onBoardMm = RIM_SHARE * this.diagonalMm;
    const rim: number[] = [];
    const holeEdges: number[] = [];
    const holeHalfFrom = new Map<number, number>();
    for (let h = 0; h < half; h++) {
      const t = (h / 3) | 0;
      if (!isSurface[t]) {
        this.links[h] = -1;
        continue;
      }
      const o = twins[h];
      if (o >= 0 && isSurface[(o / 3) | 0]) {
        this.links[h] = o;
        continue;
      }
      this.links[h] = -1;
      const a = indices[h];
      const b = indices[nextHalf(h)];
      const isRim =
        o >= 0 ||
        !scan.standsOnBoard ||
        (positions[3 * a + 2] <= onBoardMm && positions[3 * b + 2] <= onBoardMm);
      if (isRim) rim.push(h);
      else {
        holeEdges.push(a, b);
        holeHalfFrom.set(a, h);
      }
    }
    this.holeHalfFrom = holeHalfFrom;
    this.holeOfVertex = numberHoles(holeEdges);
    this.rim = Int32Array.from(rim);
    this.isOnRim = new Uint8Array(this.vertCount);
    for (const h of rim) {
      this.isOnRim[indices[h]] = 1;
      this.isOnRim[indices[nextHalf(h)]] = 1;
    }
    this.cost = new Float64Array(half);
    this.from = new Int32Array(half);
    this.stamp = new Int32Array(half);
    this.triStamp = new Int32Array(this.triCount);
    this.triValue = new Int32Array(this.triCount);
  }

  /** A new mark for the stamps, so that scratch needs no clearing. */
  nextGeneration(): number {
    this.generation++;
    return this.generation;
  }

  /** Made on the first question: a surface in one piece needs none. */
  get tiles(): SurfaceTiles {
    this.tiled ??= new SurfaceTiles(this.scan.mesh, this.links, this.isSurface);
    return this.tiled;
  }

  /** The nearest point of S (the base cap left out), snapped to an edge or vertex that is all but touched. */
  closestPoint(point: Vec3): SurfacePoint {
    if (!(Number.isFinite(point[0]) && Number.isFinite(point[1]) && Number.isFinite(point[2]))) {
      throw new PlanError('bad-line', `A point of a parting line is not three numbers: ${point.join(', ')}.`);
    }
    const tree = this.surfaceTree();
    tree.closestPoint(point[0], point[1], point[2], this.hit);
    const tri = this.treeTris ? this.treeTris[this.hit.tri] : this.hit.tri;
    return this.pointInTri(tri, this.hit.point[0], this.hit.point[1], this.hit.point[2]);
  }

  /** The point x y z, which lies in or next to triangle `tri`, as a point of that triangle. */
  pointInTri(tri: number, x: number, y: number, z: number): SurfacePoint {
    const w = barycentricInTri(this.positions, this.indices, tri, x, y, z);
    return this.pointFromWeights(tri, w[0], w[1], w[2]);
  }

  /** The point of `tri` with these barycentric weights, clamped to the triangle and snapped. */
  pointFromWeights(tri: number, w0: number, w1: number, w2: number): SurfacePoint {
    let b0 = w0 < SNAP_SHARE ? 0 : w0;
    let b1 = w1 < SNAP_SHARE ? 0 : w1;
    let b2 = w2 < SNAP_SHARE ? 0 : w2;
    const sum = b0 + b1 + b2;
    b0 /= sum;
    b1 /= sum;
    b2 /= sum;
    const p = this.positions;
    const i = 3 * this.indices[3 * tri];
    const j = 3 * this.indices[3 * tri + 1];
    const k = 3 * this.indices[3 * tri + 2];
    return {
      x: b0 * p[i] + b1 * p[j] + b2 * p[k],
      y: b0 * p[i + 1] + b1 * p[j + 1] + b2 * p[k + 1],
      z: b0 * p[i + 2] + b1 * p[j + 2] + b2 * p[k + 2],
      tri,
      b0,
      b1,
      b2,
    };
  }

  /** The point of the rim nearest to x y z and its distance, mm; null when S has no rim. O(rim). */
  closestRimPoint(x: number, y: number, z: number): { point: SurfacePoint; distanceMm: number } | null {
    const p = this.positions;
    let best = Infinity;
    let bestHalf = -1;
    let bestShare = 0;
    for (const h of this.rim) {
      const a = 3 * this.indices[h];
      const b = 3 * this.indices[nextHalf(h)];
      const dx = p[b] - p[a];
      const dy = p[b + 1] - p[a + 1];
      const dz = p[b + 2] - p[a + 2];
      const len2 = dx * dx + dy * dy + dz * dz;
      const dot = (x - p[a]) * dx + (y - p[a + 1]) * dy + (z - p[a + 2]) * dz;
      const share = len2 > 0 ? Math.min(1, Math.max(0, dot / len2)) : 0;
      const ex = p[a] + share * dx - x;
      const ey = p[a + 1] + share * dy - y;
      const ez = p[a + 2] + share * dz - z;
      const d2 = ex * ex + ey * ey + ez * ez;
      if (d2 < best) {
        best = d2;
        bestHalf = h;
        bestShare = share;
      }
    }
    if (bestHalf < 0) return null;
    const w = [0, 0, 0];
    w[bestHalf % 3] = 1 - bestShare;
    w[(bestHalf + 1) % 3] = bestShare;
    return {
      point: this.pointFromWeights((bestHalf / 3) | 0, w[0], w[1], w[2]),
      distanceMm: Math.sqrt(best),
    };
  }

  /** For picking on the whole mesh, when the tree that answers here stands over all of it; else null. */
  takePickTree(): PickTree | null {
    return this.tree && this.treeTris === undefined ? this.tree.toPickTree() : null;
  }

  /** Built on the first question, over S alone, so that the base cap is never hit. */
  private surfaceTree(): SurfaceTree {
    if (this.tree) return this.tree;
    let count = 0;
    for (let t = 0; t < this.triCount; t++) count += this.isSurface[t];
    if (count === 0) throw new PlanError('bad-line', 'There is no surface to draw a line on.');
    if (count === this.triCount) {
      this.tree = new SurfaceTree(this.scan.mesh);
      return this.tree;
    }
    const tris = new Uint32Array(count);
    const indices = new Uint32Array(3 * count);
    let n = 0;
    for (let t = 0; t < this.triCount; t++) {
      if (!this.isSurface[t]) continue;
      tris[n] = t;
      for (let k = 0; k < 3; k++) indices[3 * n + k] = this.indices[3 * t + k];
      n++;
    }
    this.treeTris = tris;
    this.tree = new SurfaceTree({ positions: this.positions, indices });
    return this.tree;
  }
}

/** Border edges (vertex pairs, flat) joined to loops: per vertex the smallest vertex of its loop. */
function numberHoles(edges: readonly number[]): Map<number, number> {
  const into = new Map<number, number>();
  const find = (v: number): number => {
    let root = v;
    for (let up = into.get(root); up !== undefined && up !== root; up = into.get(root)) root = up;
    into.set(v, root);
    return root;
  };
  for (let i = 0; i < edges.length; i += 2) {
    const a = find(edges[i]);
    const b = find(edges[i + 1]);
    into.set(Math.max(a, b), Math.min(a, b));
  }
  return new Map(edges.map((v) => [v, find(v)]));
}

/** The next half-edge round the same triangle. */
export const nextHalf = (h: number): number => (h % 3 === 2 ? h - 2 : h + 1);
/** The half-edge before, round the same triangle. */
export const previousHalf = (h: number): number => (h % 3 === 0 ? h + 2 : h - 1);

/** Barycentric weights of the projection of x y z into the plane of a triangle; of the longest edge when it has no area. */
export function barycentricInTri(
  positions: Float64Array,
  indices: Uint32Array,
  tri: number,
  x: number,
  y: number,
  z: number,
): [number, number, number] {
  const i = 3 * indices[3 * tri];
  const j = 3 * indices[3 * tri + 1];
  const k = 3 * indices[3 * tri + 2];
  const ax = positions[j] - positions[i];
  const ay = positions[j + 1] - positions[i + 1];
  const az = positions[j + 2] - positions[i + 2];
  const bx = positions[k] - positions[i];
  const by = positions[k + 1] - positions[i + 1];
  const bz = positions[k + 2] - positions[i + 2];
  const px = x - positions[i];
  const py = y - positions[i + 1];
  const pz = z - positions[i + 2];
  const nx = ay * bz - az * by;
  const ny = az * bx - ax * bz;
  const nz = ax * by - ay * bx;
  const n2 = nx * nx + ny * ny + nz * nz;
  if (!(n2 > 0)) return weightsOnLongestEdge(positions, [i, j, k], x, y, z);
  const w1 = ((py * bz - pz * by) * nx + (pz * bx - px * bz) * ny + (px * by - py * bx) * nz) / n2;
  const w2 = ((ay * pz - az * py) * nx + (az * px - ax * pz) * ny + (ax * py - ay * px) * nz) / n2;
  return [1 - w1 - w2, w1, w2];
}

function weightsOnLongestEdge(
  p: Float64Array,
  at: readonly number[],
  x: number,
  y: number,
  z: number,
): [number, number, number] {
  const weights: [number, number, number] = [1, 0, 0];
  let longest = 0;
  for (let e = 0; e < 3; e++) {
    const a = at[e];
    const b = at[(e + 1) % 3];
    const d = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const len2 = d[0] * d[0] + d[1] * d[1] + d[2] * d[2];
    if (len2 <= longest) continue;
    longest = len2;
    const dot = (x - p[a]) * d[0] + (y - p[a + 1]) * d[1] + (z - p[a + 2]) * d[2];
    const share = Math.min(1, Math.max(0, dot / len2));
    weights.fill(0);
    weights[e] = 1 - share;
    weights[(e + 1) % 3] = share;
  }
  return weights;
}
