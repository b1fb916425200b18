import { nextInTri, previousInTri } from './halfEdges.ts';
import type { TriMesh } from './TriMesh.ts';

/**
 * How far a vertex stands off the mean of its six neighbours when all are displaced by chance, with variance s^2 each: the
 * variance of that is (1 + 1/6) s^2, and its covariance with a neighbour's own is (-2/6 + 2/36) s^2, since two neighbours
 * have two more in common. The difference, in s^2:
 */
const VARIANCE_LESS_COVARIANCE = 7 / 6 + 5 / 18;

/**
 * A smooth surface bends as its neighbourhood does (the correlation of the two is 1), pure chance gives -0.24. Up to here
 * chance outweighs the shape by far, and what is measured is chance. Own choice.
 */
const MOST_LIKENESS = 0.1;

/** Steps off beyond this many times the median are creases or single slips, and count as so much. Own choice. */
const CLIP = 3;
/** Edges looked at. */
const SAMPLED = 20_000;

export interface Roughness {
  /** Standard deviation of the vertices' displacement along the normal, mm; 0 when the surface bends as a shape does. */
  readonly sigmaMm: number;
  /** Correlation of a vertex's step off its neighbours with theirs, -1..1; for tests. */
  readonly likeness: number;
}

/**
 * How rough a scan is: noise of the scanner, or a texture as fine as its mesh, told from the shape by its sign, which changes
 * from vertex to vertex. Asked at the two ends of evenly picked edges; vertices at a border are left out. Needs a manifold
 * mesh. Cost: some milliseconds, whatever the size. Own.
 */
export function measureRoughness(mesh: TriMesh, twins: Int32Array): Roughness {
  const stride = Math.max(1, Math.floor(twins.length / SAMPLED));
  // Both ends of each edge, one after the other.
  const room = new Float64Array(2 * Math.ceil(twins.length / stride));
  let filled = 0;
  for (let e = 0; e < twins.length; e += stride) {
    if (twins[e] < 0) continue;
    const here = stepAt(mesh, twins, e);
    const there = stepAt(mesh, twins, nextInTri(e));
    if (!Number.isFinite(here) || !Number.isFinite(there)) continue;
    room[filled++] = here;
    room[filled++] = there;
  }
  const steps = room.subarray(0, filled);
  const sizes = steps.map(Math.abs).sort();
  const most = CLIP * (sizes[sizes.length >> 1] ?? 0);
  let variance = 0;
  let covariance = 0;
  for (let n = 0; n < steps.length; n += 2) {
    const here = Math.max(-most, Math.min(most, steps[n]));
    const there = Math.max(-most, Math.min(most, steps[n + 1]));
    variance += (here * here + there * there) / 2;
    covariance += here * there;
  }
  if (!(variance > 0)) return { sigmaMm: 0, likeness: 1 };
  const likeness = covariance / variance;
  if (likeness > MOST_LIKENESS) return { sigmaMm: 0, likeness };
  const pairs = steps.length / 2;
  return { sigmaMm: Math.sqrt((variance - covariance) / pairs / VARIANCE_LESS_COVARIANCE), likeness };
}

/** How far the vertex that half-edge `start` comes from stands off the mean of its neighbours, outward, mm; NaN at a border. */
function stepAt({ positions: p, indices }: TriMesh, twins: Int32Array, start: number): number {
  const v = 3 * indices[start];
  const x = p[v];
  const y = p[v + 1];
  const z = p[v + 2];
  let meanX = 0;
  let meanY = 0;
  let meanZ = 0;
  let normalX = 0;
  let normalY = 0;
  let normalZ = 0;
  let count = 0;
  let e = start;
  do {
    const a = 3 * indices[nextInTri(e)];
    const b = 3 * indices[previousInTri(e)];
    const ux = p[a] - x;
    const uy = p[a + 1] - y;
    const uz = p[a + 2] - z;
    const wx = p[b] - x;
    const wy = p[b + 1] - y;
    const wz = p[b + 2] - z;
    meanX += ux;
    meanY += uy;
    meanZ += uz;
    normalX += uy * wz - uz * wy;
    normalY += uz * wx - ux * wz;
    normalZ += ux * wy - uy * wx;
    count++;
    e = twins[previousInTri(e)];
  } while (e >= 0 && e !== start);
  const length = Math.hypot(normalX, normalY, normalZ);
  if (e < 0 || !(length > 0)) return Number.NaN;
  return -(meanX * normalX + meanY * normalY + meanZ * normalZ) / (count * length);
}
