import { barycentricInTri, nextHalf, SNAP_SHARE, type SurfaceContext } from './SurfaceContext.ts';
import type { SurfacePath } from './types.ts';

/** A piece of a path inside one triangle, between two nodes. A node below the scan's vertex count is that vertex. */
export interface Wall {
  readonly from: number;
  readonly to: number;
  readonly path: number;
  readonly tri: number;
}

/** A triangle that paths touch. */
export interface TouchedFace {
  readonly tri: number;
  /** Walls through its inside. */
  readonly walls: Wall[];
  /** Nodes inside it. */
  readonly inner: number[];
}

const NO_NODES: readonly number[] = [];

/** The points of all paths as nodes of the cut mesh: on vertices, on edges (shared by both triangles), in triangles. */
export class PathNodes {
  /** New nodes: x y z flat; node `vertCount + i` is entry i. */
  readonly positions: number[] = [];
  readonly faces = new Map<number, TouchedFace>();
  /** Per edge, named by the smaller half-edge: its nodes. */
  private readonly edgeNodes = new Map<number, number[]>();
  /** Per new node: its share along its edge from the origin of the naming half-edge; NaN inside a triangle. */
  private readonly shares: number[] = [];
  /** Per new node inside a triangle: weights of the second and third corner. */
  private readonly weights: number[] = [];
  private readonly alongEdges: { half: number; from: number; to: number; path: number }[] = [];

  constructor(private readonly surface: SurfaceContext) {}

  get count(): number {
    return this.shares.length;
  }

  edgeName(half: number): number {
    const over = this.surface.links[half];
    return over >= 0 && over < half ? over : half;
  }

  face(tri: number): TouchedFace {
    let face = this.faces.get(tri);
    if (!face) {
      face = { tri, walls: [], inner: [] };
      this.faces.set(tri, face);
    }
    return face;
  }

  /** The node on edge `half` at `share` from the half-edge's origin: a vertex, a node already there, or a new one. */
  nodeOnEdge(half: number, share: number): number {
    const { surface } = this;
    const name = this.edgeName(half);
    const s = name === half ? share : 1 - share;
    const a = surface.indices[name];
    const b = surface.indices[nextHalf(name)];
    if (!(s > SNAP_SHARE)) return a;
    if (!(s < 1 - SNAP_SHARE)) return b;
    let list = this.edgeNodes.get(name);
    if (!list) {
      list = [];
      this.edgeNodes.set(name, list);
    }
    for (const node of list)
      if (Math.abs(this.shares[node - surface.vertCount] - s) <= SNAP_SHARE) return node;
    const p = surface.positions;
    const node = this.add(
      p[3 * a] + s * (p[3 * b] - p[3 * a]),
      p[3 * a + 1] + s * (p[3 * b + 1] - p[3 * a + 1]),
      p[3 * a + 2] + s * (p[3 * b + 2] - p[3 * a + 2]),
      s,
    );
    list.push(node);
    this.face((name / 3) | 0);
    const over = surface.links[name];
    if (over >= 0) this.face((over / 3) | 0);
    return node;
  }

  /** The node at these weights of a triangle's corners: a vertex, on an edge, or inside. */
  nodeInTri(tri: number, w0: number, w1: number, w2: number): number {
    const low0 = w0 < SNAP_SHARE;
    const low1 = w1 < SNAP_SHARE;
    const low2 = w2 < SNAP_SHARE;
    const h = 3 * tri;
    if (low0 || low1 || low2) {
      const k = low0 ? 1 : low1 ? 2 : 0;
      const a = Math.max(0, k === 0 ? w0 : k === 1 ? w1 : w2);
      const b = Math.max(0, k === 0 ? w1 : k === 1 ? w2 : w0);
      return this.nodeOnEdge(h + k, b / (a + b));
    }
    const face = this.face(tri);
    const { vertCount, positions: p, indices } = this.surface;
    for (const node of face.inner) {
      const i = 2 * (node - vertCount);
      if (Math.abs(this.weights[i] - w1) <= SNAP_SHARE && Math.abs(this.weights[i + 1] - w2) <= SNAP_SHARE) {
        return node;
      }
    }
    const a = 3 * indices[h];
    const b = 3 * indices[h + 1];
    const c = 3 * indices[h + 2];
    const node = this.add(
      w0 * p[a] + w1 * p[b] + w2 * p[c],
      w0 * p[a + 1] + w1 * p[b + 1] + w2 * p[c + 1],
      w0 * p[a + 2] + w1 * p[b + 2] + w2 * p[c + 2],
      Number.NaN,
    );
    this.weights[2 * (node - vertCount)] = w1;
    this.weights[2 * (node - vertCount) + 1] = w2;
    face.inner.push(node);
    return node;
  }

  /** Nodes on the inside of a half-edge, from its origin to its end. */
  nodesAlong(half: number): readonly number[] {
    const name = this.edgeName(half);
    const list = this.edgeNodes.get(name);
    if (!list) return NO_NODES;
    const { vertCount } = this.surface;
    const sorted = [...list].sort((m, n) => this.shares[m - vertCount] - this.shares[n - vertCount]);
    return name === half ? sorted : sorted.reverse();
  }

  /** Where a node stands in a triangle that holds it: weights of the second and third corner, exact zeros on the border. */
  weightsIn(tri: number, node: number): [number, number] {
    const { indices, vertCount } = this.surface;
    const h = 3 * tri;
    if (node < vertCount) return node === indices[h] ? [0, 0] : node === indices[h + 1] ? [1, 0] : [0, 1];
    const i = node - vertCount;
    const share = this.shares[i];
    if (Number.isNaN(share)) return [this.weights[2 * i], this.weights[2 * i + 1]];
    for (let k = 0; k < 3; k++) {
      const name = this.edgeName(h + k);
      if (!this.edgeNodes.get(name)?.includes(node)) continue;
      const s = name === h + k ? share : 1 - share;
      return k === 0 ? [s, 0] : k === 1 ? [1 - s, s] : [0, 1 - s];
    }
    throw new Error(`weightsIn: node ${node} is not in triangle ${tri}`);
  }

  /** A segment of a path: through the inside of `tri`, or along one of its edges. */
  addSegment(tri: number, from: number, to: number, path: number): void {
    if (from === to) return;
    for (let k = 0; k < 3; k++) {
      const half = 3 * tri + k;
      if (this.isOnEdge(half, from) && this.isOnEdge(half, to)) {
        this.alongEdges.push({ half, from, to, path });
        return;
      }
    }
    this.face(tri).walls.push({ from, to, path, tri });
  }

  /** Walls along edges, in pieces between the nodes that stand on them now. */
  edgeWalls(): Wall[] {
    const walls: Wall[] = [];
    const { indices } = this.surface;
    for (const { half, from, to, path } of this.alongEdges) {
      const chain = [indices[half], ...this.nodesAlong(half), indices[nextHalf(half)]];
      let i = chain.indexOf(from);
      const end = chain.indexOf(to);
      const step = end > i ? 1 : -1;
      for (; i !== end; i += step) {
        walls.push({ from: chain[i], to: chain[i + step], path, tri: (half / 3) | 0 });
      }
    }
    return walls;
  }

  private isOnEdge(half: number, node: number): boolean {
    const { indices, vertCount } = this.surface;
    if (node < vertCount) return node === indices[half] || node === indices[nextHalf(half)];
    return this.edgeNodes.get(this.edgeName(half))?.includes(node) ?? false;
  }

  private add(x: number, y: number, z: number, share: number): number {
    this.positions.push(x, y, z);
    this.shares.push(share);
    this.weights.push(Number.NaN, Number.NaN);
    return this.surface.vertCount + this.shares.length - 1;
  }
}

/**
 * Every path's points as nodes and its segments as walls. A point between segments of two triangles is put on what the
 * two share, so that the walls stay connected whatever rounding did to it.
 */
export function placePathNodes(surface: SurfaceContext, paths: readonly SurfacePath[]): PathNodes {
  const nodes = new PathNodes(surface);
  for (let n = 0; n < paths.length; n++) {
    const { points: q, segmentTris, closed } = paths[n];
    const count = segmentTris.length;
    if (count === 0) continue;
    const chain = new Int32Array(count + 1);
    for (let i = 0; i <= count; i++) {
      const before = i > 0 ? segmentTris[i - 1] : closed ? segmentTris[count - 1] : segmentTris[0];
      const after = i < count ? segmentTris[i] : closed ? segmentTris[0] : segmentTris[count - 1];
      chain[i] = nodeBetween(surface, nodes, before, after, q[3 * i], q[3 * i + 1], q[3 * i + 2]);
    }
    for (let i = 0; i < count; i++) nodes.addSegment(segmentTris[i], chain[i], chain[i + 1], n);
  }
  return nodes;
}

function nodeBetween(
  surface: SurfaceContext,
  nodes: PathNodes,
  before: number,
  after: number,
  x: number,
  y: number,
  z: number,
): number {
  const { indices, links, positions } = surface;
  if (before === after) {
    const w = barycentricInTri(positions, indices, before, x, y, z);
    return nodes.nodeInTri(before, w[0], w[1], w[2]);
  }
  for (let half = 3 * before; half < 3 * before + 3; half++) {
    if (links[half] < 0 || ((links[half] / 3) | 0) !== after) continue;
    const a = 3 * indices[half];
    const b = 3 * indices[nextHalf(half)];
    const dx = positions[b] - positions[a];
    const dy = positions[b + 1] - positions[a + 1];
    const dz = positions[b + 2] - positions[a + 2];
    const len2 = dx * dx + dy * dy + dz * dz;
    const dot = (x - positions[a]) * dx + (y - positions[a + 1]) * dy + (z - positions[a + 2]) * dz;
    return nodes.nodeOnEdge(half, len2 > 0 ? dot / len2 : 0);
  }
  let best = -1;
  let bestD2 = Infinity;
  for (let half = 3 * before; half < 3 * before + 3; half++) {
    const v = indices[half];
    if (v !== indices[3 * after] && v !== indices[3 * after + 1] && v !== indices[3 * after + 2]) continue;
    const d2 =
      (positions[3 * v] - x) ** 2 + (positions[3 * v + 1] - y) ** 2 + (positions[3 * v + 2] - z) ** 2;
    if (d2 < bestD2) {
      best = v;
      bestD2 = d2;
    }
  }
  if (best < 0) {
    throw new Error(
      `cutSurface: successive segments lie in triangles ${before} and ${after}, which share nothing`,
    );
  }
  return best;
}
