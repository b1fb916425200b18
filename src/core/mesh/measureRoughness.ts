import { nextInTri } from './halfEdges.ts';
import type { TriMesh } from './TriMesh.ts';
import { vertNormals } from './vertNormals.ts';

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
/** Vertices looked at for the median. */
const SAMPLED = 20_000;

export interface Roughness {
  /** Standard deviation of the vertices' displacement along the normal, mm; 0 when the surface bends as a shape does. */
  readonly sigmaMm: number;
  /** Correlation of a vertex's step off its neighbours with theirs, -1..1; for tests. */
  readonly likeness: number;
}

/**
 * How rough a scan is: noise of the scanner, or a texture as fine as its mesh, told from the shape by its sign, which changes
 * from vertex to vertex. Vertices on open edges are left out. O(n). Own.
 */
export function measureRoughness(mesh: TriMesh, twins: Int32Array): Roughness {
  const { positions: p, indices } = mesh;
  const count = p.length / 3;
  const normals = vertNormals(p, indices);
  const isOpen = new Uint8Array(count);
  const valence = new Uint16Array(count);
  const sums = new Float64Array(3 * count);
  for (let e = 0; e < indices.length; e++) {
    const v = indices[e];
    const w = indices[nextInTri(e)];
    if (twins[e] < 0) {
      isOpen[v] = 1;
      isOpen[w] = 1;
    }
    valence[v]++;
    for (let k = 0; k < 3; k++) sums[3 * v + k] += p[3 * w + k];
  }
  const steps = new Float64Array(count);
  for (let v = 0; v < count; v++) {
    const length = Math.hypot(normals[3 * v], normals[3 * v + 1], normals[3 * v + 2]);
    if (isOpen[v] !== 0 || valence[v] === 0 || !(length > 0)) {
      isOpen[v] = 1;
      continue;
    }
    for (let k = 0; k < 3; k++) {
      steps[v] += (normals[3 * v + k] / length) * (p[3 * v + k] - sums[3 * v + k] / valence[v]);
    }
  }
  const most = CLIP * medianSize(steps, isOpen);
  for (let v = 0; v < count; v++) steps[v] = Math.max(-most, Math.min(most, steps[v]));
  let variance = 0;
  let covariance = 0;
  let pairs = 0;
  for (let e = 0; e < indices.length; e++) {
    const v = indices[e];
    const w = indices[nextInTri(e)];
    if (isOpen[v] !== 0 || isOpen[w] !== 0) continue;
    variance += (steps[v] ** 2 + steps[w] ** 2) / 2;
    covariance += steps[v] * steps[w];
    pairs++;
  }
  if (!(variance > 0)) return { sigmaMm: 0, likeness: 1 };
  const likeness = covariance / variance;
  if (likeness > MOST_LIKENESS) return { sigmaMm: 0, likeness };
  return { sigmaMm: Math.sqrt((variance - covariance) / pairs / VARIANCE_LESS_COVARIANCE), likeness };
}

/** Median of the steps' sizes, from evenly picked ones. */
function medianSize(steps: Float64Array, isOpen: Uint8Array): number {
  const stride = Math.max(1, Math.floor(steps.length / SAMPLED));
  const sizes: number[] = [];
  for (let v = 0; v < steps.length; v += stride) if (isOpen[v] === 0) sizes.push(Math.abs(steps[v]));
  sizes.sort((a, b) => a - b);
  return sizes[sizes.length >> 1] ?? 0;
}
