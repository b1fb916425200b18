import type { TriMesh, Vec3 } from '../mesh/TriMesh.ts';
import type { VertexCurvature } from './measureCurvature.ts';
import { curvatureOver } from './predictAtVerts.ts';
import { laidForHeight } from './predictThickness.ts';

/** A connected patch of a piece's rubber over which the shell is predicted below the least allowed. */
export interface ThinSpot {
  readonly areaMm2: number;
  /** Least predicted thickness in it, mm, and where, on the scan. */
  readonly minMm: number;
  readonly atMm: Vec3;
  /** Outward at that place, of unit length. */
  readonly outward: Vec3;
  /** Volume that brings all of it to the least allowed, mm3. */
  readonly lackMm3: number;
  /** Thickness to be laid for that where it lacks most, mm: volume per area of rubber. */
  readonly mostLackMm: number;
}

export interface ThinReport {
  /** Least predicted thickness on the piece, mm; `laidMm` where every hollow fills or the piece has no vertex of its own. */
  readonly minMm: number;
  /** Area of rubber where the prediction is below the least allowed, mm2. */
  readonly areaBelowMm2: number;
  /** All of them, the one that lacks most first. */
  readonly spots: readonly ThinSpot[];
}

/** What the spots are found on. */
export interface ThinGround {
  readonly mesh: TriMesh;
  /** Predicted by vertex, mm: NaN where nothing is laid, Infinity where a hollow fills. */
  readonly thicknessMm: Float64Array;
  readonly curvature: VertexCurvature;
  /** Rubber over a bare pattern, mm; 0 when the scan is the rubber. */
  readonly innerMm: number;
  /** Region by vertex, -1: none. */
  readonly vertRegion: Int32Array;
  readonly regionCount: number;
}

/**
 * Thin spots by region. Two vertices belong to one spot when an edge joins them, both are below `leastMm` and of the same region.
 * What a spot lacks, per area of rubber: what would have to be laid to stand at the least there, less what stands there
 * (`laidForHeight`), so that on a ridge more is lacking than the difference of the heights.
 * O(triangles); spots alone cost more where there are many.
 */
export function findThinSpots(ground: ThinGround, leastMm: number, laidMm: number): ThinReport[] {
  const { mesh, thicknessMm, curvature, innerMm, vertRegion, regionCount } = ground;
  const minMm = new Float64Array(regionCount).fill(Infinity);
  const areaBelowMm2 = new Float64Array(regionCount);
  const root = joinBelow(ground, leastMm);
  const open = new Map<number, OpenSpot>();
  for (let v = 0; v < thicknessMm.length; v++) {
    const region = vertRegion[v];
    const thickness = thicknessMm[v];
    if (region < 0 || Number.isNaN(thickness)) continue;
    if (thickness < minMm[region]) minMm[region] = thickness;
    if (!(thickness < leastMm)) continue;
    const { meanPerMm, gaussPerMm2, stretch } = curvatureOver(curvature, v, innerMm);
    const areaMm2 = curvature.areaMm2[v] * stretch;
    const lackMm =
      laidForHeight(leastMm, meanPerMm, gaussPerMm2) - laidForHeight(thickness, meanPerMm, gaussPerMm2);
    areaBelowMm2[region] += areaMm2;
    const first = findRoot(root, v);
    let spot = open.get(first);
    if (spot === undefined) {
      spot = { region, areaMm2: 0, minMm: Infinity, vert: v, lackMm3: 0, mostLackMm: 0 };
      open.set(first, spot);
    }
    spot.areaMm2 += areaMm2;
    spot.lackMm3 += Math.max(0, lackMm) * areaMm2;
    spot.mostLackMm = Math.max(spot.mostLackMm, lackMm);
    if (thickness < spot.minMm) {
      spot.minMm = thickness;
      spot.vert = v;
    }
  }
  const outward = outwardAt(mesh, new Set([...open.values()].map(({ vert }) => vert)));
  const spots: ThinSpot[][] = Array.from({ length: regionCount }, () => []);
  const p = mesh.positions;
  for (const { region, vert, ...spot } of open.values()) {
    const atMm: Vec3 = [p[3 * vert], p[3 * vert + 1], p[3 * vert + 2]];
    spots[region].push({ ...spot, atMm, outward: outward.get(vert) ?? [0, 0, 1] });
  }
  return spots.map((list, region) => ({
    minMm: minMm[region] === Infinity ? laidMm : minMm[region],
    areaBelowMm2: areaBelowMm2[region],
    spots: list.sort((a, b) => b.lackMm3 - a.lackMm3),
  }));
}

interface OpenSpot {
  readonly region: number;
  areaMm2: number;
  minMm: number;
  /** Thinnest vertex. */
  vert: number;
  lackMm3: number;
  mostLackMm: number;
}

/** By vertex another of its spot, the first one itself; each edge between two thin vertices of a region joins them. */
function joinBelow({ mesh, thicknessMm, vertRegion }: ThinGround, leastMm: number): Int32Array {
  const { indices } = mesh;
  const parent = Int32Array.from(thicknessMm, (_, v) => v);
  for (let e = 0; e < indices.length; e++) {
    const a = indices[e];
    if (!(thicknessMm[a] < leastMm)) continue;
    const b = indices[e % 3 === 2 ? e - 2 : e + 1];
    if (!(thicknessMm[b] < leastMm) || vertRegion[a] !== vertRegion[b]) continue;
    const rootA = findRoot(parent, a);
    const rootB = findRoot(parent, b);
    if (rootA < rootB) parent[rootB] = rootA;
    else parent[rootA] = rootB;
  }
  return parent;
}

function findRoot(parent: Int32Array, from: number): number {
  let v = from;
  while (parent[v] !== v) {
    parent[v] = parent[parent[v]];
    v = parent[v];
  }
  return v;
}

/** Outward unit normals at a few vertices: means of their triangles' by area. */
function outwardAt({ positions: p, indices }: TriMesh, verts: ReadonlySet<number>): Map<number, Vec3> {
  const out = new Map<number, [number, number, number]>();
  if (verts.size === 0) return out;
  for (let e = 0; e < indices.length; e++) {
    if (!verts.has(indices[e])) continue;
    const t = e - (e % 3);
    const [a, b, c] = [3 * indices[t], 3 * indices[t + 1], 3 * indices[t + 2]];
    const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const [wx, wy, wz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const sum = out.get(indices[e]) ?? [0, 0, 0];
    sum[0] += uy * wz - uz * wy;
    sum[1] += uz * wx - ux * wz;
    sum[2] += ux * wy - uy * wx;
    out.set(indices[e], sum);
  }
  for (const [vert, [x, y, z]] of out) {
    const length = Math.hypot(x, y, z) || 1;
    out.set(vert, [x / length, y / length, z / length]);
  }
  return out;
}
