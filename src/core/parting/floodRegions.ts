import { triArea } from '../mesh/measure.ts';
import { type CutMesh, edgeKey, floodPatches, type Patches } from './floodPatches.ts';
import type { Wall } from './placePathNodes.ts';
import type { SurfaceContext } from './SurfaceContext.ts';
import { type SurfaceTiles, TILE_SUM, TILE_SUMS } from './SurfaceTiles.ts';
import { allLoose, type CutParts, type CutSegments } from './types.ts';

/**
 * A region smaller than this share of S is no piece that anyone could lay up: it came from lines that run almost on top
 * of each other, or along the rim.
 */
export const SLIVER_SHARE = 1e-5;

/**
 * A region smaller than this share of S that touches an unfilled hole is a notch of the hole's ragged border that a line
 * passing by cut off. A choice: nobody lays up half a percent of a shell at the edge of a hole as a piece.
 */
export const NOTCH_SHARE = 5e-3;

export interface Flood {
  readonly regionCount: number;
  readonly cutTriRegion: Int32Array;
  readonly segments: CutSegments;
  readonly parts: CutParts;
}

/**
 * Regions of the cut mesh in the order of their first triangles, and the walls that separate two of them. O(n) copying; looked at
 * one by one are only the triangles of tiles that a wall touches, and of those beside them.
 */
export function floodRegions(surface: SurfaceContext, mesh: CutMesh, walls: readonly Wall[]): Flood {
  if (walls.length === 0) return undividedRegion(mesh);
  const { tiles } = surface;
  const nodeCount = mesh.positions.length / 3;
  const { sides, ...patch } = floodPatches(surface, mesh, walls);

  // Every wall once, with the patches at its sides.
  const seen = new Set<number>();
  const parting: { wall: Wall; left: number; right: number; lengthMm: number }[] = [];
  const walled = new Uint8Array(patch.count);
  for (const wall of walls) {
    const key = edgeKey(wall.from, wall.to, nodeCount);
    if (seen.has(key)) continue;
    seen.add(key);
    const leftTri = sides(wall.from, wall.to, wall.tri);
    const rightTri = sides(wall.to, wall.from, wall.tri);
    if (leftTri >= 0) walled[patch.of(leftTri)] = 1;
    if (rightTri >= 0) walled[patch.of(rightTri)] = 1;
    if (leftTri < 0 || rightTri < 0) continue;
    parting.push({
      wall,
      left: patch.of(leftTri),
      right: patch.of(rightTri),
      lengthMm: edgeLength(mesh.positions, wall.from, wall.to),
    });
  }

  const region = mergePatches(surface, mesh, patch, walled, parting);
  const kept = parting.filter(({ left, right }) => region.of[left] !== region.of[right]);
  const segments: CutSegments = {
    count: kept.length,
    ends: new Float64Array(6 * kept.length),
    tri: new Int32Array(kept.length),
    left: new Int32Array(kept.length),
    right: new Int32Array(kept.length),
    path: new Int32Array(kept.length),
  };
  const p = mesh.positions;
  for (let i = 0; i < kept.length; i++) {
    const { wall, left, right } = kept[i];
    for (let k = 0; k < 3; k++) {
      segments.ends[6 * i + k] = p[3 * wall.from + k];
      segments.ends[6 * i + 3 + k] = p[3 * wall.to + k];
    }
    segments.tri[i] = wall.tri;
    segments.left[i] = region.of[left];
    segments.right[i] = region.of[right];
    segments.path[i] = wall.path;
  }
  const cutTriRegion = new Int32Array(mesh.cutTriSource.length);
  for (let t = 0; t < cutTriRegion.length; t++) cutTriRegion[t] = region.of[patch.of(t)];
  const tileRegion = patch.ofTile.map((one) => (one < 0 ? -1 : region.of[one]));
  const parts = { tiles, tileRegion, loose: patch.loose };
  return { regionCount: region.count, cutTriRegion, segments, parts };
}

/** Without any wall all parts are one region, however many there are. */
function undividedRegion(mesh: CutMesh): Flood {
  const { length } = mesh.cutTriSource;
  const none = (): Int32Array => new Int32Array(0);
  return {
    regionCount: length > 0 ? 1 : 0,
    cutTriRegion: new Int32Array(length),
    segments: { count: 0, ends: new Float64Array(0), tri: none(), left: none(), right: none(), path: none() },
    parts: allLoose(length),
  };
}

const edgeLength = (p: Float64Array, a: number, b: number): number =>
  Math.hypot(p[3 * a] - p[3 * b], p[3 * a + 1] - p[3 * b + 1], p[3 * a + 2] - p[3 * b + 2]);

function areaOfPatches({ count, sums }: SurfaceTiles, mesh: CutMesh, patch: Patches): Float64Array {
  const areaMm2 = new Float64Array(patch.count);
  for (let tile = 0; tile < count; tile++) {
    if (patch.ofTile[tile] >= 0) areaMm2[patch.ofTile[tile]] += sums[TILE_SUMS * tile + TILE_SUM.area];
  }
  const scratch = new Float64Array(3);
  for (const tri of patch.loose) areaMm2[patch.of(tri)] += triArea(mesh, tri, scratch);
  return areaMm2;
}

/** Patches to regions: slivers to the neighbour along their longest wall, parts without any wall to the nearest walled one. */
function mergePatches(
  surface: SurfaceContext,
  mesh: CutMesh,
  patch: Patches,
  walled: Uint8Array,
  parting: readonly { left: number; right: number; lengthMm: number }[],
): { readonly count: number; readonly of: Int32Array } {
  const areaMm2 = areaOfPatches(surface.tiles, mesh, patch);
  const totalMm2 = areaMm2.reduce((sum, one) => sum + one, 0);
  const atHole = new Uint8Array(patch.count);
  if (surface.holeOfVertex.size > 0) {
    const isAtHole = new Uint8Array(mesh.positions.length / 3);
    for (const v of surface.holeOfVertex.keys()) isAtHole[v] = 1;
    for (let i = 0; i < mesh.indices.length; i++) {
      if (isAtHole[mesh.indices[i]] === 1) atHole[patch.of((i / 3) | 0)] = 1;
    }
  }
  const into = Int32Array.from({ length: patch.count }, (_, i) => i);
  const find = (i: number): number => {
    let root = i;
    while (into[root] !== root) root = into[root];
    return root;
  };
  // The smallest first, so that slivers next to slivers end in a real region.
  const slivers = Array.from(areaMm2.keys())
    .filter((i) => areaMm2[i] < (atHole[i] ? NOTCH_SHARE : SLIVER_SHARE) * totalMm2)
    .sort((a, b) => areaMm2[a] - areaMm2[b] || a - b);
  for (const sliver of slivers) {
    const border = new Map<number, number>();
    for (const { left, right, lengthMm } of parting) {
      const l = find(left);
      const r = find(right);
      if (l === r) continue;
      if (l === find(sliver)) border.set(r, (border.get(r) ?? 0) + lengthMm);
      else if (r === find(sliver)) border.set(l, (border.get(l) ?? 0) + lengthMm);
    }
    let best = -1;
    for (const [other, length] of border) if (best < 0 || length > border.get(best)!) best = other;
    if (best >= 0) into[find(sliver)] = best;
  }

  // Parts that no line touches.
  let hasWalled = false;
  for (let i = 0; i < patch.count; i++) if (walled[i]) hasWalled = true;
  for (let i = 0; i < patch.count; i++) {
    if (walled[i]) continue;
    if (!hasWalled) into[i] = 0;
    else into[i] = find(nearestWalledPatch(mesh, patch, walled, i));
  }

  // Numbered by first triangle.
  const number = new Int32Array(patch.count).fill(-1);
  const of = new Int32Array(patch.count);
  let count = 0;
  const roots = new Set(into.map((_, i) => find(i))).size;
  for (let t = 0; count < roots; t++) {
    const root = find(patch.of(t));
    if (number[root] < 0) number[root] = count++;
  }
  for (let i = 0; i < patch.count; i++) of[i] = number[find(i)];
  return { count, of };
}

/** The walled patch with the corner nearest to the first corner of a patch. O(n), for the few stray parts of a scan. */
function nearestWalledPatch(mesh: CutMesh, patch: Patches, walled: Uint8Array, stray: number): number {
  const { positions: p, indices } = mesh;
  const count = mesh.cutTriSource.length;
  let first = 0;
  while (patch.of(first) !== stray) first++;
  const from = 3 * indices[3 * first];
  let best = -1;
  let bestD2 = Infinity;
  for (let t = 0; t < count; t++) {
    if (!walled[patch.of(t)]) continue;
    const v = 3 * indices[3 * t];
    const d2 = (p[v] - p[from]) ** 2 + (p[v + 1] - p[from + 1]) ** 2 + (p[v + 2] - p[from + 2]) ** 2;
    if (d2 < bestD2) {
      best = patch.of(t);
      bestD2 = d2;
    }
  }
  return best;
}
