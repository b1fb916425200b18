import type { Checkpoint } from '../checkpoint.ts';
import type { SurfaceContext } from './SurfaceContext.ts';

/** Cotangents outside this range come from needles and caps; bounded, the system stays solvable and positive. */
const LEAST_COTANGENT = 0.02;
const MOST_COTANGENT = 20;

/** The residual, relative to the right side, at which the solver stops: far below what a sign or a curve would show. */
const SOLVER_SHARE = 1e-4;
const MOST_ROUNDS = 600;
/** Only for the progress shown: rounds after which half the way is said to be done. */
const EXPECTED_ROUNDS = 40;

/**
 * S as a graph on which values at vertices are spread: holes (never the rim) are bridged by a fan to an added vertex in
 * their middle, so that a line drawn by the values does not end at them.
 */
export class SurfaceDiffusion {
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
      for (const v of [a, b, c]) {
        this.areas[v / 3] += twice / 6;
        this.areaVectors[v] += nx / 6;
        this.areaVectors[v + 1] += ny / 6;
        this.areaVectors[v + 2] += nz / 6;
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

    // Each triangle enters its edges in both directions; edges of two triangles stand there twice, and add.
    this.starts = new Uint32Array(this.count + 1);
    for (let h = 0; h < tris.length; h++) {
      this.starts[tris[h] + 1]++;
      this.starts[tris[h % 3 === 2 ? h - 2 : h + 1] + 1]++;
    }
    for (let v = 0; v < this.count; v++) this.starts[v + 1] += this.starts[v];
    const next = this.starts.slice(0, this.count);
    this.neighbours = new Uint32Array(2 * tris.length);
    this.stiffness = new Float64Array(2 * tris.length);
    for (let h = 0; h < tris.length; h++) {
      const a = tris[h];
      const b = tris[h % 3 === 2 ? h - 2 : h + 1];
      const w = 0.5 * cotangents[h];
      this.neighbours[next[a]] = b;
      this.stiffness[next[a]++] = w;
      this.neighbours[next[b]] = a;
      this.stiffness[next[b]++] = w;
    }
  }

  /**
   * Values spread over the length `lengthMm`: the solution u of (A + l^2 L) u = `integrals`, where A holds the vertices'
   * areas, L is the surface's Laplacian in cotangents (Pinkall & Polthier 1993) and `integrals` are values times area.
   * One implicit step of heat flow; nothing flows over the rim. By conjugate gradients with the diagonal as
   * preconditioner, from `guess`. Cancels at its checkpoint. Cost: some 100 rounds of O(n).
   */
  async spread(
    integrals: Float64Array,
    lengthMm: number,
    cp: Checkpoint,
    guess: Float64Array | null = null,
  ): Promise<Float64Array> {
    const n = this.count;
    const t = lengthMm * lengthMm;
    const { starts, neighbours, stiffness, areas } = this;
    const diagonal = new Float64Array(n);
    for (let v = 0; v < n; v++) {
      let sum = areas[v];
      for (let e = starts[v]; e < starts[v + 1]; e++) sum += t * stiffness[e];
      // Vertices off S have an empty row; 1 keeps them at zero.
      diagonal[v] = sum > 0 ? sum : 1;
    }
    const u = guess ? guess.slice() : new Float64Array(n);
    const r = new Float64Array(n);
    const q = new Float64Array(n);
    const p = new Float64Array(n);
    multiply(u, q, diagonal, starts, neighbours, stiffness, t);
    let rho = 0;
    let goal = 0;
    for (let v = 0; v < n; v++) {
      r[v] = integrals[v] - q[v];
      const z = r[v] / diagonal[v];
      p[v] = z;
      rho += r[v] * z;
      goal += (integrals[v] * integrals[v]) / diagonal[v];
    }
    goal *= SOLVER_SHARE * SOLVER_SHARE;
    for (let round = 0; round < MOST_ROUNDS && rho > goal; round++) {
      if (cp.due()) await cp.pause(round / (round + EXPECTED_ROUNDS));
      multiply(p, q, diagonal, starts, neighbours, stiffness, t);
      let pq = 0;
      for (let v = 0; v < n; v++) pq += p[v] * q[v];
      const alpha = rho / pq;
      let next = 0;
      for (let v = 0; v < n; v++) {
        u[v] += alpha * p[v];
        r[v] -= alpha * q[v];
        next += (r[v] * r[v]) / diagonal[v];
      }
      const beta = next / rho;
      rho = next;
      for (let v = 0; v < n; v++) p[v] = r[v] / diagonal[v] + beta * p[v];
    }
    return u;
  }
}

function cotangent(fourAreaTimes: number, twiceArea: number): number {
  const c = twiceArea > 0 ? fourAreaTimes / (2 * twiceArea) : 0;
  return Math.min(MOST_COTANGENT, Math.max(LEAST_COTANGENT, c));
}

function multiply(
  x: Float64Array,
  out: Float64Array,
  diagonal: Float64Array,
  starts: Uint32Array,
  neighbours: Uint32Array,
  stiffness: Float64Array,
  t: number,
): void {
  for (let v = 0; v < x.length; v++) {
    let sum = 0;
    const end = starts[v + 1];
    for (let e = starts[v]; e < end; e++) sum += stiffness[e] * x[neighbours[e]];
    out[v] = diagonal[v] * x[v] - t * sum;
  }
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
  const tris: number[] = [];
  for (let t = 0; t < triCount; t++) {
    if (isSurface[t]) tris.push(indices[3 * t], indices[3 * t + 1], indices[3 * t + 2]);
  }
  const realTriCount = tris.length / 3;
  if (middles.size > 0) {
    for (let h = 0; h < indices.length; h++) {
      if (links[h] >= 0 || !isSurface[(h / 3) | 0]) continue;
      const a = indices[h];
      const b = indices[h % 3 === 2 ? h - 2 : h + 1];
      const hole = holeOfVertex.get(a);
      if (hole === undefined || holeOfVertex.get(b) !== hole) continue;
      tris.push(b, a, middles.get(hole)!.index);
    }
  }
  return { positions, tris: Uint32Array.from(tris), realTriCount };
}
