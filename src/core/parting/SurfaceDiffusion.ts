import type { Checkpoint } from '../checkpoint.ts';
import type { SurfaceContext } from './SurfaceContext.ts';

/** Cotangents outside this range come from needles and caps; bounded, the system stays solvable and positive. */
const LEAST_COTANGENT = 0.02;
const MOST_COTANGENT = 20;

/**
 * The residual, relative to the right side, at which the solver stops. Only signs and smooth curves are read off the
 * values; 2e-3 moves them by far less than the lengths over which they are spread.
 */
const SOLVER_SHARE = 2e-3;
const MOST_ROUNDS = 200;
/** Rounds that are enough where a coarser answer was the start: they smooth what the clumps left. */
const REFINING_ROUNDS = 24;
/**
 * Graphs of more vertices than this are not solved at all, only evened out: their edges are far shorter than any length that
 * is spread over. Against 8 rounds the lines for two pieces on six scans of half a million to 1.5 million triangles lie within
 * 2.2 % of the diagonal (own trial).
 */
const LARGE = 150_000;
/** Only for the progress shown: rounds after which half the way is said to be done. */
const EXPECTED_ROUNDS = 40;
/** A graph of at most so many vertices is solved as it is, a larger one from a coarser one's answer. */
const COARSE_ENOUGH = 2000;

/** Vertices, how they hang together, their areas and area vectors: what pieces are chosen on. */
export interface FacingGraph {
  readonly count: number;
  readonly starts: Uint32Array;
  readonly neighbours: Uint32Array;
  readonly areas: Float64Array;
  /** n x 3, mm2. */
  readonly areaVectors: Float64Array;
}

/** Vertices with areas, and the stiffness between neighbours: those of v are neighbours[starts[v]] ... */
interface Graph {
  readonly count: number;
  readonly areas: Float64Array;
  readonly starts: Uint32Array;
  readonly neighbours: Uint32Array;
  readonly stiffness: Float64Array;
}

/**
 * S as a graph on which values at vertices are spread: holes (never the rim) are bridged by a fan to an added vertex in
 * their middle, so that a line drawn by the values does not end at them.
 */
export class SurfaceDiffusion implements FacingGraph {
  /** Vertices of the scan, then one for each hole. */
  readonly count: number;
  /** Triangles over these vertices: those of S, then the bridges. */
  readonly tris: Uint32Array;
  readonly realTriCount: number;
  readonly positions: Float64Array;
  /** A third of the area of the triangles around, mm2; 0 for vertices off S. */
  readonly areas: Float64Array;
  /** Sum of the area vectors around (a third of each), n x 3, mm2. */
  readonly areaVectors: Float64Array;
  /** Neighbours of v: neighbours[starts[v]] ... with the stiffness between. */
  readonly starts: Uint32Array;
  readonly neighbours: Uint32Array;
  readonly stiffness: Float64Array;
  /** Coarser graphs, each with the vertex of it that a vertex of the finer one lies in. */
  private readonly coarser: { readonly graph: Graph; readonly into: Int32Array }[] = [];

  constructor(surface: SurfaceContext) {
    const bridged = bridgeHoles(surface);
    const { positions, tris } = bridged;
    this.positions = positions;
    this.tris = tris;
    this.realTriCount = bridged.realTriCount;
    this.count = positions.length / 3;
    this.areas = new Float64Array(this.count);
    this.areaVectors = new Float64Array(3 * this.count);
    const cotangents = new Float64Array(tris.length);
    for (let t = 0; t < tris.length; t += 3) {
      const a = 3 * tris[t];
      const b = 3 * tris[t + 1];
      const c = 3 * tris[t + 2];
      const ux = positions[b] - positions[a];
      const uy = positions[b + 1] - positions[a + 1];
      const uz = positions[b + 2] - positions[a + 2];
      const vx = positions[c] - positions[a];
      const vy = positions[c + 1] - positions[a + 1];
      const vz = positions[c + 2] - positions[a + 2];
      const nx = uy * vz - uz * vy;
      const ny = uz * vx - ux * vz;
      const nz = ux * vy - uy * vx;
      const twice = Math.sqrt(nx * nx + ny * ny + nz * nz);
      for (let k = 0; k < 3; k++) {
        const v = tris[t + k];
        this.areas[v] += twice / 6;
        this.areaVectors[3 * v] += nx / 6;
        this.areaVectors[3 * v + 1] += ny / 6;
        this.areaVectors[3 * v + 2] += nz / 6;
      }
      // Squared edges opposite to a, b, c; the cotangent at a corner is (other two - own) / (4 area).
      const aa = (vx - ux) ** 2 + (vy - uy) ** 2 + (vz - uz) ** 2;
      const bb = vx * vx + vy * vy + vz * vz;
      const cc = ux * ux + uy * uy + uz * uz;
      // Entry t + k belongs to the edge from corner k to the next, opposite to corner k + 2.
      cotangents[t] = cotangent(aa + bb - cc, twice);
      cotangents[t + 1] = cotangent(bb + cc - aa, twice);
      cotangents[t + 2] = cotangent(cc + aa - bb, twice);
    }

    const rows = rowsOfTris(this.count, tris, cotangents);
    this.starts = rows.starts;
    this.neighbours = rows.neighbours;
    this.stiffness = rows.stiffness;
    let finest: Graph = this;
    while (finest.count > COARSE_ENOUGH) {
      const coarse = coarsen(finest);
      // A graph of loose vertices does not get coarser; then the finer one has to do.
      if (coarse.graph.count > 0.7 * finest.count) break;
      this.coarser.push(coarse);
      finest = coarse.graph;
    }
  }

  /**
   * The graph in clumps of a few vertices, with values at vertices as means over the clumps: good enough to compare many choices
   * on a large surface. A small one is returned as it is.
   */
  clumped(values: readonly Float64Array[]): { graph: FacingGraph; values: readonly Float64Array[] } {
    if (this.count <= LARGE || this.coarser.length === 0) return { graph: this, values };
    const { graph, into } = this.coarser[0];
    const areaVectors = new Float64Array(3 * graph.count);
    const sums = values.map(() => new Float64Array(graph.count));
    for (let v = 0; v < this.count; v++) {
      const clump = into[v];
      for (let k = 0; k < 3; k++) areaVectors[3 * clump + k] += this.areaVectors[3 * v + k];
      for (let n = 0; n < values.length; n++) sums[n][clump] += values[n][v] * this.areas[v];
    }
    for (const sum of sums) for (let c = 0; c < graph.count; c++) sum[c] /= graph.areas[c] || 1;
    return { graph: { ...graph, areaVectors }, values: sums };
  }

  /**
   * Values spread over the length `lengthMm`: the solution u of (A + l^2 L) u = `integrals`, where A holds the vertices'
   * areas, L is the surface's Laplacian in cotangents (Pinkall & Polthier 1993) and `integrals` are values times area.
   * One implicit step of heat flow; nothing flows over the rim. Coarse graphs are solved first and give the start for
   * finer ones; each by conjugate gradients with the diagonal as preconditioner, LARGE ones not at all. Cancels at its checkpoint.
   * Cost: some 50 rounds of O(n).
   */
  async spread(integrals: Float64Array, lengthMm: number, cp: Checkpoint): Promise<Float64Array> {
    const rights = [integrals];
    for (const { graph, into } of this.coarser) {
      const fine = rights[rights.length - 1];
      const sums = new Float64Array(graph.count);
      for (let v = 0; v < fine.length; v++) sums[into[v]] += fine[v];
      rights.push(sums);
    }
    let u: Float64Array | null = null;
    for (let level = this.coarser.length; level >= 0; level--) {
      const graph: Graph = level === 0 ? this : this.coarser[level - 1].graph;
      const start: Float64Array =
        u === null ? new Float64Array(graph.count) : smoothedFromClumps(graph, u, this.coarser[level].into);
      if (u === null || graph.count <= LARGE) {
        const rounds = u === null ? MOST_ROUNDS : REFINING_ROUNDS;
        await solve(graph, rights[level], lengthMm * lengthMm, start, rounds, cp);
      }
      u = start;
    }
    return u ?? new Float64Array(0);
  }
}

/** Each vertex the value of its clump, evened out twice with its neighbours. */
function smoothedFromClumps(graph: Graph, coarse: Float64Array, into: Int32Array): Float64Array {
  const { count, starts, neighbours } = graph;
  let u = new Float64Array(count);
  for (let v = 0; v < count; v++) u[v] = coarse[into[v]];
  for (let sweep = 0; sweep < 2; sweep++) {
    const next = new Float64Array(count);
    for (let v = 0; v < count; v++) {
      let sum = u[v];
      for (let e = starts[v]; e < starts[v + 1]; e++) sum += u[neighbours[e]];
      next[v] = sum / (starts[v + 1] - starts[v] + 1);
    }
    u = next;
  }
  return u;
}

/** Solves (A + t L) u = right from and in `u`. */
async function solve(
  graph: Graph,
  right: Float64Array,
  t: number,
  u: Float64Array,
  mostRounds: number,
  cp: Checkpoint,
): Promise<void> {
  const { count: n, starts, stiffness, areas } = graph;
  const diagonal = new Float64Array(n);
  for (let v = 0; v < n; v++) {
    let sum = areas[v];
    for (let e = starts[v]; e < starts[v + 1]; e++) sum += t * stiffness[e];
    // Vertices off S have an empty row; 1 keeps them at zero.
    diagonal[v] = sum > 0 ? sum : 1;
  }
  const r = new Float64Array(n);
  const q = new Float64Array(n);
  const p = new Float64Array(n);
  multiply(graph, diagonal, t, u, q);
  let rho = 0;
  let goal = 0;
  for (let v = 0; v < n; v++) {
    r[v] = right[v] - q[v];
    const z = r[v] / diagonal[v];
    p[v] = z;
    rho += r[v] * z;
    goal += (right[v] * right[v]) / diagonal[v];
  }
  goal *= SOLVER_SHARE * SOLVER_SHARE;
  for (let round = 0; round < mostRounds && rho > goal; round++) {
    if (cp.due()) await cp.pause(round / (round + EXPECTED_ROUNDS));
    multiply(graph, diagonal, t, p, q);
    const next = step(rho, u, r, p, q, diagonal);
    turn(next / rho, p, r, diagonal);
    rho = next;
  }
}

/** One step of conjugate gradients along p; returns the new residual in the preconditioner's measure. */
function step(
  rho: number,
  u: Float64Array,
  r: Float64Array,
  p: Float64Array,
  q: Float64Array,
  diagonal: Float64Array,
): number {
  const n = u.length;
  let pq = 0;
  for (let v = 0; v < n; v++) pq += p[v] * q[v];
  const alpha = rho / pq;
  let next = 0;
  for (let v = 0; v < n; v++) {
    u[v] += alpha * p[v];
    const rest = r[v] - alpha * q[v];
    r[v] = rest;
    next += (rest * rest) / diagonal[v];
  }
  return next;
}

function turn(beta: number, p: Float64Array, r: Float64Array, diagonal: Float64Array): void {
  for (let v = 0; v < p.length; v++) p[v] = r[v] / diagonal[v] + beta * p[v];
}

function multiply(graph: Graph, diagonal: Float64Array, t: number, x: Float64Array, out: Float64Array): void {
  const { starts, neighbours, stiffness } = graph;
  for (let v = 0; v < x.length; v++) {
    let sum = 0;
    const end = starts[v + 1];
    for (let e = starts[v]; e < end; e++) sum += stiffness[e] * x[neighbours[e]];
    out[v] = diagonal[v] * x[v] - t * sum;
  }
}

/** Collects the rows of a graph one after the other; entries of the same pair are added, those of a vertex to itself dropped. */
class RowCollector {
  private readonly starts: Uint32Array;
  private readonly neighbours: Uint32Array;
  private readonly stiffness: Float64Array;
  /** For each vertex its place in the present row, if that lies in the row. */
  private readonly place: Int32Array;
  private row = 0;
  private from = 0;
  private filled = 0;

  constructor(count: number, mostEntries: number) {
    this.starts = new Uint32Array(count + 1);
    this.neighbours = new Uint32Array(mostEntries);
    this.stiffness = new Float64Array(mostEntries);
    this.place = new Int32Array(count).fill(-1);
  }

  /** Adds an entry to the present row. */
  add(to: number, weight: number): void {
    if (to === this.row) return;
    if (this.place[to] < this.from) {
      this.place[to] = this.filled;
      this.neighbours[this.filled++] = to;
    }
    this.stiffness[this.place[to]] += weight;
  }

  endRow(): void {
    this.from = this.filled;
    this.starts[++this.row] = this.filled;
  }

  rows(): Pick<Graph, 'starts' | 'neighbours' | 'stiffness'> {
    return {
      starts: this.starts,
      neighbours: this.neighbours.slice(0, this.filled),
      stiffness: this.stiffness.slice(0, this.filled),
    };
  }
}

/** Half the cotangents opposite to each edge, by vertex. */
function rowsOfTris(
  count: number,
  tris: Uint32Array,
  cotangents: Float64Array,
): ReturnType<RowCollector['rows']> {
  const { members: corners, starts } = membersOf(tris, count);
  const collector = new RowCollector(count, 2 * tris.length);
  for (let v = 0; v < count; v++) {
    for (let n = starts[v]; n < starts[v + 1]; n++) {
      const h = corners[n];
      const k = h % 3;
      const next = k === 2 ? h - 2 : h + 1;
      const before = k === 0 ? h + 2 : h - 1;
      // Half-edges in their order.
      if (k === 0) collector.add(tris[next], 0.5 * cotangents[h]);
      collector.add(tris[before], 0.5 * cotangents[before]);
      if (k !== 0) collector.add(tris[next], 0.5 * cotangents[h]);
    }
    collector.endRow();
  }
  return collector.rows();
}

/** What belongs to each of `count`, in order: members[starts[c]] ... */
function membersOf(
  into: Uint32Array | Int32Array,
  count: number,
): { readonly members: Uint32Array; readonly starts: Uint32Array } {
  const starts = new Uint32Array(count + 1);
  for (let i = 0; i < into.length; i++) starts[into[i] + 1]++;
  for (let c = 0; c < count; c++) starts[c + 1] += starts[c];
  const members = new Uint32Array(into.length);
  const next = starts.slice(0, count);
  for (let i = 0; i < into.length; i++) members[next[into[i]]++] = i;
  return { members, starts };
}

/**
 * A coarser graph: vertices in clumps of one and its free neighbours. The stiffness between clumps is what lies between
 * their members, less the factor by which steps between clumps are longer than steps between vertices.
 */
function coarsen(fine: Graph): { graph: Graph; into: Int32Array } {
  const into = new Int32Array(fine.count).fill(-1);
  let count = 0;
  for (let v = 0; v < fine.count; v++) {
    if (into[v] >= 0) continue;
    // Left-over vertices between clumps join one, so that clumps stay of a size.
    let isFree = fine.starts[v] === fine.starts[v + 1];
    let other = -1;
    for (let e = fine.starts[v]; e < fine.starts[v + 1]; e++) {
      if (into[fine.neighbours[e]] < 0) isFree = true;
      else other = into[fine.neighbours[e]];
    }
    if (!isFree) {
      into[v] = other;
      continue;
    }
    into[v] = count;
    for (let e = fine.starts[v]; e < fine.starts[v + 1]; e++) {
      if (into[fine.neighbours[e]] < 0) into[fine.neighbours[e]] = count;
    }
    count++;
  }
  const areas = new Float64Array(count);
  const shorter = Math.sqrt(count / fine.count);
  const { members, starts } = membersOf(into, count);
  const collector = new RowCollector(count, fine.neighbours.length);
  for (let clump = 0; clump < count; clump++) {
    for (let n = starts[clump]; n < starts[clump + 1]; n++) {
      const v = members[n];
      areas[clump] += fine.areas[v];
      for (let e = fine.starts[v]; e < fine.starts[v + 1]; e++) {
        collector.add(into[fine.neighbours[e]], fine.stiffness[e] * shorter);
      }
    }
    collector.endRow();
  }
  return { graph: { count, areas, ...collector.rows() }, into };
}

function cotangent(fourAreaTimes: number, twiceArea: number): number {
  const c = twiceArea > 0 ? fourAreaTimes / (2 * twiceArea) : 0;
  return Math.min(MOST_COTANGENT, Math.max(LEAST_COTANGENT, c));
}

function bridgeHoles(surface: SurfaceContext): {
  positions: Float64Array;
  tris: Uint32Array;
  realTriCount: number;
} {
  const { indices, isSurface, triCount, links, holeOfVertex, positions: p } = surface;
  const middles = new Map<number, { index: number; x: number; y: number; z: number; count: number }>();
  for (const [v, hole] of holeOfVertex) {
    let m = middles.get(hole);
    if (!m) {
      m = { index: surface.vertCount + middles.size, x: 0, y: 0, z: 0, count: 0 };
      middles.set(hole, m);
    }
    m.x += p[3 * v];
    m.y += p[3 * v + 1];
    m.z += p[3 * v + 2];
    m.count++;
  }
  const positions = new Float64Array(p.length + 3 * middles.size);
  positions.set(p);
  for (const m of middles.values()) {
    positions.set([m.x / m.count, m.y / m.count, m.z / m.count], 3 * m.index);
  }
  const bridges: number[] = [];
  if (middles.size > 0) {
    for (let h = 0; h < indices.length; h++) {
      if (links[h] >= 0 || !isSurface[(h / 3) | 0]) continue;
      const a = indices[h];
      const b = indices[h % 3 === 2 ? h - 2 : h + 1];
      const hole = holeOfVertex.get(a);
      if (hole === undefined || holeOfVertex.get(b) !== hole) continue;
      bridges.push(b, a, middles.get(hole)!.index);
    }
  }
  let realTriCount = 0;
  for (let t = 0; t < triCount; t++) realTriCount += isSurface[t];
  const tris = new Uint32Array(3 * realTriCount + bridges.length);
  let n = 0;
  for (let t = 0; t < triCount; t++) {
    if (!isSurface[t]) continue;
    tris[n++] = indices[3 * t];
    tris[n++] = indices[3 * t + 1];
    tris[n++] = indices[3 * t + 2];
  }
  tris.set(bridges, n);
  return { positions, tris, realTriCount };
}
