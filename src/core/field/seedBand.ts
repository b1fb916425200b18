import type { Checkpoint } from '../checkpoint.ts';
import type { BandGrid } from './BandGrid.ts';
import type { BandSource } from './BandSource.ts';
import { closestOnTriangle } from './closestOnTriangle.ts';

/** Cells within this many cell edges of S get their nearest point straight from the triangles: thick enough a wall that
 * the wave that grows outward cannot slip through (a step of one edge cannot jump from +1/2 to -1/2 or farther). */
export const SEED_REACH_CELLS = 1;

/** Large triangles are visited in parts no longer than this many cells, so that a diagonal one does not visit its whole box. */
const PART_CELLS = 4;

/** Triangles between two looks at the clock. */
const CHUNK = 2048;

/**
 * Fills the cells near S with their exact unsigned distance and nearest triangle.
 * O(area / cell^2 + triangles). Distances are exact to float32 rounding because every triangle within reach is tried.
 */
export async function seedBand(grid: BandGrid, source: BandSource, cp: Checkpoint): Promise<void> {
  const { positions, indices } = source.mesh;
  const { isSurface } = source;
  const h = grid.cellMm;
  const [ox, oy, oz] = grid.origin;
  const reach = SEED_REACH_CELLS * h;
  const reach2 = reach * reach;
  const scratch = new Float64Array(4);
  const part = new Float64Array(9);
  const tris = isSurface.length;
  for (let t = 0; t < tris; t++) {
    if (t % CHUNK === 0 && cp.due()) await cp.pause(t / tris);
    if (isSurface[t] === 0) continue;
    const parts = partsPerEdge(positions, indices, t, PART_CELLS * h);
    for (let a = 0; a < parts; a++) {
      for (let b = 0; b < 2 * (parts - a) - 1; b++) {
        writePart(positions, indices, t, parts, a, b, part);
        const i0 = Math.max(0, Math.floor((Math.min(part[0], part[3], part[6]) - reach - ox) / h));
        const i1 = Math.floor((Math.max(part[0], part[3], part[6]) + reach - ox) / h);
        const j0 = Math.max(0, Math.floor((Math.min(part[1], part[4], part[7]) - reach - oy) / h));
        const j1 = Math.floor((Math.max(part[1], part[4], part[7]) + reach - oy) / h);
        const k0 = Math.max(0, Math.floor((Math.min(part[2], part[5], part[8]) - reach - oz) / h));
        const k1 = Math.floor((Math.max(part[2], part[5], part[8]) + reach - oz) / h);
        for (let k = k0; k <= k1; k++) {
          const z = oz + (k + 0.5) * h;
          for (let j = j0; j <= j1; j++) {
            const y = oy + (j + 0.5) * h;
            for (let i = i0; i <= i1; i++) {
              closestOnTriangle(positions, indices, t, ox + (i + 0.5) * h, y, z, scratch);
              const d2 = scratch[3];
              if (d2 > reach2) continue;
              const cell = grid.cellMade(i, j, k);
              if (cell < 0) continue;
              const d = Math.sqrt(d2);
              if (d < grid.phi[cell]) {
                grid.phi[cell] = d;
                grid.tri[cell] = t;
              }
            }
          }
        }
      }
    }
  }
}

/** Into how many parts each edge is divided so that none is longer than `longestMm`. */
function partsPerEdge(positions: Float64Array, indices: Uint32Array, t: number, longestMm: number): number {
  const a = indices[3 * t] * 3;
  const b = indices[3 * t + 1] * 3;
  const c = indices[3 * t + 2] * 3;
  const longest = Math.max(
    edgeLength(positions, a, b),
    edgeLength(positions, b, c),
    edgeLength(positions, c, a),
  );
  return Math.max(1, Math.ceil(longest / longestMm));
}

function edgeLength(p: Float64Array, a: number, b: number): number {
  return Math.hypot(p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]);
}

/** Corners of part b of row a of a triangle divided in n parts an edge: even b upright, odd b upside down. */
function writePart(
  p: Float64Array,
  indices: Uint32Array,
  t: number,
  n: number,
  a: number,
  b: number,
  out: Float64Array,
): void {
  const m = b >> 1;
  const isDown = (b & 1) === 1;
  writeCorner(p, indices, t, n, isDown ? a + 1 : a, isDown ? m : m, out, 0);
  writeCorner(p, indices, t, n, isDown ? a + 1 : a + 1, isDown ? m + 1 : m, out, 3);
  writeCorner(p, indices, t, n, a, m + 1, out, 6);
}

function writeCorner(
  p: Float64Array,
  indices: Uint32Array,
  t: number,
  n: number,
  u: number,
  v: number,
  out: Float64Array,
  at: number,
): void {
  const a = indices[3 * t] * 3;
  const b = indices[3 * t + 1] * 3;
  const c = indices[3 * t + 2] * 3;
  for (let k = 0; k < 3; k++) {
    out[at + k] = p[a + k] + ((p[b + k] - p[a + k]) * u + (p[c + k] - p[a + k]) * v) / n;
  }
}
