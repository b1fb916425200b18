import { buildTwins } from '../mesh/buildTwins.ts';
import { nextHalf, SurfaceContext } from './SurfaceContext.ts';

/** Edges from a seed to the rim of its disc, in which no later seed may lie: cells of about fourteen vertices on regular meshes. */
const DISC_RINGS = 3;

/** S in a fourteenth of its triangles or so, for finding the way roughly. */
export interface CoarseSurface {
  /** Its vertices are some of the fine ones, `seed`. No rim, no board: only its links and lengths are used. */
  readonly surface: SurfaceContext;
  /** By coarse vertex: the vertex of S in its place. */
  readonly seed: Int32Array;
  /** By vertex of S: the coarse vertex whose cell it belongs to; -1 off S. */
  readonly cellOf: Int32Array;
  readonly meanEdgeMm: number;
}

/**
 * The dual of a partition of S's vertices into cells: seeds at least some edges apart (in the order of the vertices), each
 * vertex to the seed that the fewest edges lead to, and a coarse triangle where three cells meet in one of S. So it hangs
 * together as S does: walls that nearly touch stay apart. Where cells touch in odd ways it has holes or lacks a bridge.
 *
 * Source: the idea of S. Valette & J.-M. Chassery (2004), "Approximated centroidal Voronoi diagrams for uniform polygonal mesh
 * coarsening"; without their centring, which a rough way does not need. O(n), 0.3 s for 1 million triangles.
 */
export function coarsenSurface(fine: SurfaceContext): CoarseSurface {
  const { indices, isSurface, positions, triCount, vertCount } = fine;
  const { start, neighbours } = listNeighbours(fine);

  // Seeds: a vertex that no earlier seed has within its disc.
  const seeds: number[] = [];
  const covered = new Uint8Array(vertCount);
  const visit = new Int32Array(vertCount).fill(-1);
  const queue = new Int32Array(vertCount);
  for (let v = 0; v < vertCount; v++) {
    if (covered[v] || start[v + 1] === start[v]) continue;
    const s = seeds.length;
    seeds.push(v);
    let from = 0;
    let to = 0;
    queue[to++] = v;
    visit[v] = s;
    covered[v] = 1;
    for (let ring = 0; ring < DISC_RINGS; ring++) {
      const end = to;
      for (; from < end; from++) {
        const u = queue[from];
        for (let i = start[u]; i < start[u + 1]; i++) {
          const w = neighbours[i];
          if (visit[w] === s) continue;
          visit[w] = s;
          covered[w] = 1;
          queue[to++] = w;
        }
      }
    }
  }

  // Cells grow from all seeds at once.
  const cellOf = new Int32Array(vertCount).fill(-1);
  let to = 0;
  for (let s = 0; s < seeds.length; s++) {
    cellOf[seeds[s]] = s;
    queue[to++] = seeds[s];
  }
  for (let from = 0; from < to; from++) {
    const u = queue[from];
    for (let i = start[u]; i < start[u + 1]; i++) {
      const w = neighbours[i];
      if (cellOf[w] >= 0) continue;
      cellOf[w] = cellOf[u];
      queue[to++] = w;
    }
  }

  const coarse: number[] = [];
  const known = new Set<number>();
  const count = seeds.length;
  for (let t = 0; t < triCount; t++) {
    if (!isSurface[t]) continue;
    const a = cellOf[indices[3 * t]];
    const b = cellOf[indices[3 * t + 1]];
    const c = cellOf[indices[3 * t + 2]];
    if (a === b || b === c || c === a) continue;
    // The same three cells may meet twice; a second triangle there would tear the edges of the first.
    const least = Math.min(a, b, c);
    const most = Math.max(a, b, c);
    const key = (least * count + most) * count + (a + b + c - least - most);
    if (known.has(key)) continue;
    known.add(key);
    coarse.push(a, b, c);
  }
  const mesh = {
    positions: new Float64Array(3 * seeds.length),
    indices: Uint32Array.from(coarse),
  };
  for (let s = 0; s < seeds.length; s++) {
    for (let k = 0; k < 3; k++) mesh.positions[3 * s + k] = positions[3 * seeds[s] + k];
  }
  const surface = new SurfaceContext({
    ...fine.scan,
    mesh,
    twins: buildTwins(mesh.indices).twins,
    isSurface: new Uint8Array(coarse.length / 3).fill(1),
    standsOnBoard: false,
  });
  return { surface, seed: Int32Array.from(seeds), cellOf, meanEdgeMm: meanEdge(surface) };
}

/** By vertex of S its neighbours along edges of S: neighbours[start[v]] ... neighbours[start[v + 1] - 1]; some stand twice. */
function listNeighbours(fine: SurfaceContext): { start: Uint32Array; neighbours: Uint32Array } {
  const { indices, isSurface, links, vertCount } = fine;
  const start = new Uint32Array(vertCount + 1);
  for (let h = 0; h < indices.length; h++) {
    if (!isSurface[(h / 3) | 0]) continue;
    start[indices[h] + 1]++;
    // A border edge is seen from one side only.
    if (links[h] < 0) start[indices[nextHalf(h)] + 1]++;
  }
  for (let v = 0; v < vertCount; v++) start[v + 1] += start[v];
  const next = start.slice(0, vertCount);
  const neighbours = new Uint32Array(start[vertCount]);
  for (let h = 0; h < indices.length; h++) {
    if (!isSurface[(h / 3) | 0]) continue;
    const a = indices[h];
    const b = indices[nextHalf(h)];
    neighbours[next[a]++] = b;
    if (links[h] < 0) neighbours[next[b]++] = a;
  }
  return { start, neighbours };
}

function meanEdge({ indices, positions: p }: SurfaceContext): number {
  let sum = 0;
  for (let h = 0; h < indices.length; h++) {
    const a = 3 * indices[h];
    const b = 3 * indices[nextHalf(h)];
    sum += Math.sqrt((p[a] - p[b]) ** 2 + (p[a + 1] - p[b + 1]) ** 2 + (p[a + 2] - p[b + 2]) ** 2);
  }
  return indices.length > 0 ? sum / indices.length : Infinity;
}
