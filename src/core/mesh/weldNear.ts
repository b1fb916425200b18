import { buildVertexRings } from './buildVertexRings.ts';
import type { EdgeTable } from './EdgeTable.ts';
import { nextInTri } from './halfEdges.ts';
import type { TriMesh } from './TriMesh.ts';
import { writeNormal } from './writeNormal.ts';

/** Never weld farther than this: a hundredth of a millimetre is below what any scan means. Own choice, mm. */
const FARTHEST_WELD_MM = 0.01;
/** Nor farther than this share of the median edge, so that small or fine scans keep their shape. Own choice. */
const FARTHEST_EDGE_SHARE = 0.1;
/** Edges looked at for the median. */
const SAMPLED_EDGES = 20_000;

/**
 * The mesh with vertices on open edges that lie within a tolerance of each other made one, which closes hairline cracks.
 *
 * Tolerance: the smaller of 0.01 mm and a tenth of the median edge. Only vertices on open edges are touched, since a
 * closed surface has no crack to close. A weld is refused that would join two corners of a face or turn a face over.
 * `weldedAt`: where those vertices were, n x 3. O(n) in the open edges.
 */
export function weldNear(
  mesh: TriMesh,
  table: EdgeTable,
): { mesh: TriMesh; welded: number; toleranceMm: number; weldedAt: Float64Array } {
  const { positions: p } = mesh;
  const toleranceMm = Math.min(FARTHEST_WELD_MM, FARTHEST_EDGE_SHARE * medianEdge(mesh));
  const count = p.length / 3;
  const isOpen = new Uint8Array(count);
  const open: number[] = [];
  for (let edge = 0; edge < table.count; edge++) {
    const e = table.first[edge];
    if (table.next[e] >= 0) continue;
    for (const v of [mesh.indices[e], mesh.indices[nextInTri(e)]]) {
      if (isOpen[v] === 0) open.push(v);
      isOpen[v] = 1;
    }
  }
  if (open.length === 0 || !(toleranceMm > 0))
    return { mesh, welded: 0, toleranceMm, weldedAt: new Float64Array(0) };
  const rings = buildVertexRings(mesh.indices, count);
  const indices = mesh.indices.slice();
  const grid = new PointGrid(p, 2 * toleranceMm, open.length);
  let welded = 0;
  const weldedAt: number[] = [];
  const tris = new Map<number, number[]>();
  const trisOf = (v: number): number[] => {
    const own = tris.get(v) ?? Array.from(rings.tris.subarray(rings.start[v], rings.start[v + 1]));
    tris.set(v, own);
    return own;
  };
  for (const v of open) {
    const target = grid.nearest(v, toleranceMm, (w) => canWeld(p, indices, trisOf(v), v, w));
    if (target < 0) {
      grid.add(v);
      continue;
    }
    for (const t of trisOf(v)) {
      for (let k = 0; k < 3; k++) if (indices[3 * t + k] === v) indices[3 * t + k] = target;
      trisOf(target).push(t);
    }
    welded++;
    weldedAt.push(p[3 * v], p[3 * v + 1], p[3 * v + 2]);
  }
  return {
    mesh: welded > 0 ? { positions: p, indices } : mesh,
    welded,
    toleranceMm,
    weldedAt: Float64Array.from(weldedAt),
  };
}

/** Moving v to w keeps every face of v a face, and its normal on the same side. */
function canWeld(
  p: Float64Array,
  indices: Uint32Array,
  tris: readonly number[],
  v: number,
  w: number,
): boolean {
  for (const t of tris) {
    const c = [indices[3 * t], indices[3 * t + 1], indices[3 * t + 2]];
    if (c.includes(w)) return false;
    const before = normalOf(p, c[0], c[1], c[2]);
    const [i, j, k] = c.map((x) => (x === v ? w : x));
    const after = normalOf(p, i, j, k);
    const dot = before[0] * after[0] + before[1] * after[1] + before[2] * after[2];
    if (!(dot > 0)) return false;
  }
  return true;
}

function normalOf(p: Float64Array, i: number, j: number, k: number): Float64Array {
  const normal = new Float64Array(3);
  writeNormal(p, i, j, k, normal);
  return normal;
}

/** Points in cubic cells, found again through the eight cells next to a point. Open addressing in typed arrays. */
class PointGrid {
  private readonly slots: Int32Array;
  private readonly nextInCell: Int32Array;
  private readonly points: number[] = [];
  private readonly mask: number;

  constructor(
    private readonly positions: Float64Array,
    private readonly cell: number,
    capacity: number,
  ) {
    let size = 16;
    while (size < 2 * capacity) size *= 2;
    this.slots = new Int32Array(size).fill(-1);
    this.mask = size - 1;
    this.nextInCell = new Int32Array(capacity).fill(-1);
  }

  add(v: number): void {
    const { positions: p, cell } = this;
    const slot = this.slotOf(
      Math.floor(p[3 * v] / cell),
      Math.floor(p[3 * v + 1] / cell),
      Math.floor(p[3 * v + 2] / cell),
    );
    const own = this.points.push(v) - 1;
    this.nextInCell[own] = this.slots[slot];
    this.slots[slot] = own;
  }

  /** The nearest point within `reach` (at most half a cell) that `accepts` takes, or -1. */
  nearest(v: number, reach: number, accepts: (w: number) => boolean): number {
    const { positions: p, cell } = this;
    const x = p[3 * v];
    const y = p[3 * v + 1];
    const z = p[3 * v + 2];
    const seen = new Set<number>();
    let best = -1;
    let least = reach * reach;
    for (let corner = 0; corner < 8; corner++) {
      const slot = this.slotOf(
        Math.floor((x + (corner & 1 ? reach : -reach)) / cell),
        Math.floor((y + (corner & 2 ? reach : -reach)) / cell),
        Math.floor((z + (corner & 4 ? reach : -reach)) / cell),
      );
      if (seen.has(slot)) continue;
      seen.add(slot);
      // Cells may share a slot: the distance test sorts out the strangers.
      for (let i = this.slots[slot]; i >= 0; i = this.nextInCell[i]) {
        const w = this.points[i];
        const d = (p[3 * w] - x) ** 2 + (p[3 * w + 1] - y) ** 2 + (p[3 * w + 2] - z) ** 2;
        if (w !== v && d <= least && accepts(w)) {
          least = d;
          best = w;
        }
      }
    }
    return best;
  }

  private slotOf(i: number, j: number, k: number): number {
    const hash = Math.imul(i | 0, 0x9e3779b1) ^ Math.imul(j | 0, 0x85ebca6b) ^ Math.imul(k | 0, 0xc2b2ae35);
    return (hash ^ (hash >>> 15)) & this.mask;
  }
}

function medianEdge(mesh: TriMesh): number {
  const { positions: p, indices } = mesh;
  const step = Math.max(1, Math.floor(indices.length / SAMPLED_EDGES));
  const lengths: number[] = [];
  for (let e = 0; e < indices.length; e += step) {
    const a = 3 * indices[e];
    const b = 3 * indices[nextInTri(e)];
    lengths.push(Math.hypot(p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]));
  }
  lengths.sort((x, y) => x - y);
  return lengths[lengths.length >> 1] ?? 0;
}
