import { type TriMesh, triCount, vertCount } from '../../src/core/mesh/TriMesh.ts';

/**
 * Steiner's formula for the layer of thickness t over a convex body: A t + M t^2 + K t^3 / 3.
 *
 * Sources: J. Steiner 1840, "Ueber parallele Flaechen"; R. Schneider, Convex Bodies: The Brunn-Minkowski Theory, sec. 4
 * (local form: each face, edge and corner has its own share, so that it holds for any part of the surface).
 */
export interface SteinerSums {
  /** mm2 */
  areaMm2: number;
  /** Integral of the mean curvature: half the sum of edge length times outer angle, mm. */
  meanMm: number;
  /** Integral of the Gaussian curvature: sum of the corners' angle defects; 4 pi over a closed body. */
  gauss: number;
}

export function layerVolume(sums: SteinerSums, thicknessMm: number): number {
  return sums.areaMm2 * thicknessMm + sums.meanMm * thicknessMm ** 2 + (sums.gauss * thicknessMm ** 3) / 3;
}

export interface RegionSteiner {
  readonly regions: SteinerSums[];
  /** Bent edges and corners that lie on a parting line itself and so belong to no one region; entered in the first found. */
  readonly shared: SteinerSums;
}

const none = (): SteinerSums => ({ areaMm2: 0, meanMm: 0, gauss: 0 });

/** Bends below this are the rounding of a flat face that was divided, radians. */
const FLAT_RAD = 1e-7;

/**
 * The sums of a polyhedron, region by region. An open edge is taken to lie on the board, with the body's mirror image
 * under it: half of the bend there and half of the corner's defect lie above the board.
 *
 * @param regionOf per triangle; all 0 when left out.
 */
export function steinerByRegion(
  mesh: TriMesh,
  regionOf: ArrayLike<number> = new Int32Array(triCount(mesh)),
): RegionSteiner {
  const { positions: p, indices } = mesh;
  const regions: SteinerSums[] = [];
  const shared = none();
  const sums = (tri: number): SteinerSums => (regions[regionOf[tri]] ??= none());
  const normals: number[][] = [];
  const angleSum = new Float64Array(vertCount(mesh));
  const firstTri = new Int32Array(vertCount(mesh)).fill(-1);
  const isShared = new Uint8Array(vertCount(mesh));
  const isRim = new Uint8Array(vertCount(mesh));
  const edges = new Map<string, { tri: number; from: number; to: number }>();
  const at = (v: number): number[] => [p[3 * v], p[3 * v + 1], p[3 * v + 2]];
  for (let t = 0; t < triCount(mesh); t++) {
    const v = [indices[3 * t], indices[3 * t + 1], indices[3 * t + 2]];
    const [a, b, c] = v.map(at);
    const cross = crossOf(minus(b, a), minus(c, a));
    const length = Math.hypot(...cross);
    sums(t).areaMm2 += length / 2;
    normals.push(cross.map((x) => x / (length || 1)));
    for (let k = 0; k < 3; k++) {
      const here = at(v[k]);
      const u = minus(at(v[(k + 1) % 3]), here);
      const w = minus(at(v[(k + 2) % 3]), here);
      angleSum[v[k]] += Math.atan2(Math.hypot(...crossOf(u, w)), dot(u, w));
      if (firstTri[v[k]] < 0) firstTri[v[k]] = t;
      else if (regionOf[firstTri[v[k]]] !== regionOf[t]) isShared[v[k]] = 1;
      edges.set(`${v[k]},${v[(k + 1) % 3]}`, { tri: t, from: v[k], to: v[(k + 1) % 3] });
    }
  }
  for (const { tri, from, to } of edges.values()) {
    const edge = minus(at(to), at(from));
    const length = Math.hypot(...edge);
    const over = edges.get(`${to},${from}`);
    if (!over) {
      isRim[from] = 1;
      isRim[to] = 1;
      // Leaning up by beta: the wedge from the normal down to the board. In M, M t^2 stands for length * beta * t^2 / 2.
      sums(tri).meanMm += (length * Math.asin(Math.max(-1, Math.min(1, normals[tri][2])))) / 2;
      continue;
    }
    const bend =
      Math.sign(dot(crossOf(normals[tri], normals[over.tri]), edge)) *
      Math.atan2(
        Math.hypot(...crossOf(normals[tri], normals[over.tri])),
        dot(normals[tri], normals[over.tri]),
      );
    // Each edge is met from both of its sides and enters half each time.
    sums(tri).meanMm += (length * bend) / 4;
    if (regionOf[tri] !== regionOf[over.tri] && Math.abs(bend) > FLAT_RAD)
      shared.meanMm += (length * Math.abs(bend)) / 4;
  }
  for (let v = 0; v < vertCount(mesh); v++) {
    if (firstTri[v] < 0) continue;
    const defect = (isRim[v] ? Math.PI : 2 * Math.PI) - angleSum[v];
    sums(firstTri[v]).gauss += defect;
    if (isShared[v] && Math.abs(defect) > FLAT_RAD) shared.gauss += Math.abs(defect);
  }
  return { regions, shared };
}

/** The sums of the whole polyhedron. */
export function steinerOf(mesh: TriMesh): SteinerSums {
  return steinerByRegion(mesh).regions[0];
}

/** Enclosed volume, by the divergence theorem; of an open mesh, with its rim joined to `apex` by flat caps through it. */
export function enclosedVolume(mesh: TriMesh, apex: readonly number[] = [0, 0, 0]): number {
  const { positions: p, indices } = mesh;
  let sum = 0;
  const at = (v: number): number[] => [p[3 * v] - apex[0], p[3 * v + 1] - apex[1], p[3 * v + 2] - apex[2]];
  for (let i = 0; i < indices.length; i += 3) {
    sum += dot(at(indices[i]), crossOf(at(indices[i + 1]), at(indices[i + 2]))) / 6;
  }
  return sum;
}

/**
 * How far the signed sums may be from the layer over a body with hollow edges, mm3, as long as t is below its reach.
 *
 * Across a hollow edge of bend b the layers of the two faces overlap: the layer holds t^2 (tan(b/2) - b/2) a unit of
 * length less than the sums say. At a saddle corner the shortened edges meet at an angle; what they share is at most the
 * corner's own term t^3 |K| times the largest bend. Derived for these tests.
 */
export function hollowDeviation(mesh: TriMesh, thicknessMm: number): number {
  const { positions: p, indices } = mesh;
  const at = (v: number): number[] => [p[3 * v], p[3 * v + 1], p[3 * v + 2]];
  const normalOf = (t: number): number[] => {
    const [a, b, c] = [0, 1, 2].map((k) => at(indices[3 * t + k]));
    const n = crossOf(minus(b, a), minus(c, a));
    const length = Math.hypot(...n);
    return n.map((x) => x / length);
  };
  const edges = new Map<string, number>();
  for (let h = 0; h < indices.length; h++) {
    edges.set(`${indices[h]},${indices[h % 3 === 2 ? h - 2 : h + 1]}`, Math.floor(h / 3));
  }
  let overlap = 0;
  let largest = 0;
  for (const [key, tri] of edges) {
    const [from, to] = key.split(',').map(Number);
    const over = edges.get(`${to},${from}`);
    if (over === undefined || over < tri) continue;
    const [m, n] = [normalOf(tri), normalOf(over)];
    const edge = minus(at(to), at(from));
    const bend = Math.atan2(Math.hypot(...crossOf(m, n)), dot(m, n));
    largest = Math.max(largest, bend);
    if (dot(crossOf(m, n), edge) < 0)
      overlap += thicknessMm ** 2 * (Math.tan(bend / 2) - bend / 2) * Math.hypot(...edge);
  }
  const angles = new Float64Array(vertCount(mesh));
  for (let h = 0; h < indices.length; h++) {
    const t = h - (h % 3);
    const here = at(indices[h]);
    const u = minus(at(indices[t + ((h + 1) % 3)]), here);
    const w = minus(at(indices[t + ((h + 2) % 3)]), here);
    angles[indices[h]] += Math.atan2(Math.hypot(...crossOf(u, w)), dot(u, w));
  }
  const saddles = angles.reduce((sum, angle) => sum + Math.max(0, angle - 2 * Math.PI), 0);
  return overlap + thicknessMm ** 3 * saddles * largest;
}

const minus = (a: readonly number[], b: readonly number[]): number[] => [
  a[0] - b[0],
  a[1] - b[1],
  a[2] - b[2],
];
const dot = (a: readonly number[], b: readonly number[]): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const crossOf = (a: readonly number[], b: readonly number[]): number[] => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
