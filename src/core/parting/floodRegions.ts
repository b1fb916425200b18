import { triArea } from '../mesh/measure.ts';
import type { Wall } from './placePathNodes.ts';
import { nextHalf, type SurfaceContext } from './SurfaceContext.ts';
import type { CutSegments } from './types.ts';

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

/** The cut mesh before its regions are known. Its first `whole` triangles are untouched ones of the scan. */
export interface CutMesh {
  readonly positions: Float64Array;
  readonly indices: Uint32Array;
  readonly cutTriSource: Int32Array;
  readonly whole: number;
}

/** Regions of the cut mesh in the order of their first triangles, and the walls that separate two of them. O(n). */
export function floodRegions(
  surface: SurfaceContext,
  mesh: CutMesh,
  walls: readonly Wall[],
): { regionCount: number; cutTriRegion: Int32Array; segments: CutSegments } {
  if (walls.length === 0) return undividedRegion(mesh);
  const cutOfScan = new Int32Array(surface.triCount).fill(-1);
  for (let i = 0; i < mesh.whole; i++) cutOfScan[mesh.cutTriSource[i]] = i;
  const sides = sideOfEdges(surface, mesh, cutOfScan);
  const wallKeys = new Set<number>();
  const nodeCount = mesh.positions.length / 3;
  for (const { from, to } of walls) wallKeys.add(edgeKey(from, to, nodeCount));
  const patch = floodPatches(surface, mesh, cutOfScan, sides, wallKeys);

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
    if (leftTri >= 0) walled[patch.of[leftTri]] = 1;
    if (rightTri >= 0) walled[patch.of[rightTri]] = 1;
    if (leftTri < 0 || rightTri < 0) continue;
    parting.push({
      wall,
      left: patch.of[leftTri],
      right: patch.of[rightTri],
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
  const cutTriRegion = new Int32Array(patch.of.length);
  for (let t = 0; t < cutTriRegion.length; t++) cutTriRegion[t] = region.of[patch.of[t]];
  return { regionCount: region.count, cutTriRegion, segments };
}

/** Without any wall all parts are one region, however many there are. */
function undividedRegion(mesh: CutMesh): ReturnType<typeof floodRegions> {
  const { length } = mesh.cutTriSource;
  const none = (): Int32Array => new Int32Array(0);
  return {
    regionCount: length > 0 ? 1 : 0,
    cutTriRegion: new Int32Array(length),
    segments: { count: 0, ends: new Float64Array(0), tri: none(), left: none(), right: none(), path: none() },
  };
}

const edgeKey = (a: number, b: number, nodeCount: number): number =>
  a < b ? a * nodeCount + b : b * nodeCount + a;

const edgeLength = (p: Float64Array, a: number, b: number): number =>
  Math.hypot(p[3 * a] - p[3 * b], p[3 * a + 1] - p[3 * b + 1], p[3 * a + 2] - p[3 * b + 2]);

/** Finds the cut triangle to the left of a directed edge of the cut mesh; `near` is a scan triangle that has the edge. -1: none. */
type SideFinder = (from: number, to: number, near: number) => number;

function sideOfEdges(surface: SurfaceContext, mesh: CutMesh, cutOfScan: Int32Array): SideFinder {
  const { indices: scanIndices, links, vertCount } = surface;
  const { indices, whole, cutTriSource } = mesh;
  const nodeCount = mesh.positions.length / 3;
  const left = new Map<number, number>();
  for (let i = whole; i < cutTriSource.length; i++) {
    for (let k = 0; k < 3; k++) {
      left.set(indices[3 * i + k] * nodeCount + indices[3 * i + ((k + 1) % 3)], i);
    }
  }
  return (from, to, near) => {
    const cut = left.get(from * nodeCount + to);
    if (cut !== undefined) return cut;
    if (from >= vertCount || to >= vertCount) return -1;
    // An edge of the scan whose triangle on this side is whole: found from the triangle that is known to have it.
    for (let h = 3 * near; h < 3 * near + 3; h++) {
      const a = scanIndices[h];
      const b = scanIndices[nextHalf(h)];
      const half = a === from && b === to ? h : a === to && b === from ? links[h] : -2;
      if (half === -2) continue;
      if (half < 0) return -1;
      return cutOfScan[(half / 3) | 0];
    }
    return -1;
  };
}

interface Patches {
  readonly count: number;
  /** Per cut triangle. */
  readonly of: Int32Array;
}

/** Connected sets of cut triangles that no wall parts. `cutOfScan`: per triangle of the scan its place in the cut mesh, -1 when touched. */
function floodPatches(
  surface: SurfaceContext,
  mesh: CutMesh,
  cutOfScan: Int32Array,
  sides: SideFinder,
  wallKeys: ReadonlySet<number>,
): Patches {
  const { links } = surface;
  const { indices, cutTriSource, whole } = mesh;
  const nodeCount = mesh.positions.length / 3;
  const count = cutTriSource.length;
  // Walls are looked up only where both ends of an edge are on one.
  const onWall = new Uint8Array(nodeCount);
  for (const key of wallKeys) {
    onWall[Math.floor(key / nodeCount)] = 1;
    onWall[key % nodeCount] = 1;
  }
  const of = new Int32Array(count).fill(-1);
  const stack = new Int32Array(count);
  let patchCount = 0;
  for (let seed = 0; seed < count; seed++) {
    if (of[seed] >= 0) continue;
    let top = 0;
    stack[top++] = seed;
    of[seed] = patchCount;
    while (top > 0) {
      const i = stack[--top];
      const t = cutTriSource[i];
      for (let k = 0; k < 3; k++) {
        // From a whole triangle to a whole one by the scan's own links; over an edge with a touched one by its nodes.
        let next = -1;
        if (i < whole) {
          const over = links[3 * t + k];
          if (over < 0) continue;
          next = cutOfScan[(over / 3) | 0];
          if (next >= 0 && of[next] >= 0) continue;
        }
        const a = indices[3 * i + k];
        const b = indices[3 * i + (k === 2 ? 0 : k + 1)];
        if (onWall[a] && onWall[b] && wallKeys.has(edgeKey(a, b, nodeCount))) continue;
        if (next < 0) next = sides(b, a, t);
        if (next < 0 || of[next] >= 0) continue;
        of[next] = patchCount;
        stack[top++] = next;
      }
    }
    patchCount++;
  }
  return { count: patchCount, of };
}

/** Patches to regions: slivers to the neighbour along their longest wall, parts without any wall to the nearest walled one. */
function mergePatches(
  surface: SurfaceContext,
  mesh: CutMesh,
  patch: Patches,
  walled: Uint8Array,
  parting: readonly { left: number; right: number; lengthMm: number }[],
): Patches {
  const area = new Float64Array(patch.count);
  let total = 0;
  const scratch = new Float64Array(3);
  for (let t = 0; t < patch.of.length; t++) {
    const a = triArea(mesh, t, scratch);
    area[patch.of[t]] += a;
    total += a;
  }
  const atHole = new Uint8Array(patch.count);
  if (surface.holeOfVertex.size > 0) {
    for (let i = 0; i < mesh.indices.length; i++) {
      if (surface.holeOfVertex.has(mesh.indices[i])) atHole[patch.of[(i / 3) | 0]] = 1;
    }
  }
  const into = Int32Array.from({ length: patch.count }, (_, i) => i);
  const find = (i: number): number => {
    let root = i;
    while (into[root] !== root) root = into[root];
    return root;
  };
  // The smallest first, so that slivers next to slivers end in a real region.
  const slivers = Array.from(area.keys())
    .filter((i) => area[i] < (atHole[i] ? NOTCH_SHARE : SLIVER_SHARE) * total)
    .sort((a, b) => area[a] - area[b] || a - b);
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
  for (let t = 0; t < patch.of.length; t++) {
    const root = find(patch.of[t]);
    if (number[root] < 0) number[root] = count++;
  }
  for (let i = 0; i < patch.count; i++) of[i] = number[find(i)];
  return { count, of };
}

/** The walled patch with the corner nearest to the first corner of a patch. O(n), for the few stray parts of a scan. */
function nearestWalledPatch(mesh: CutMesh, patch: Patches, walled: Uint8Array, stray: number): number {
  const { positions: p, indices } = mesh;
  const from = 3 * indices[3 * patch.of.indexOf(stray)];
  let best = -1;
  let bestD2 = Infinity;
  for (let t = 0; t < patch.of.length; t++) {
    if (!walled[patch.of[t]]) continue;
    const v = 3 * indices[3 * t];
    const d2 = (p[v] - p[from]) ** 2 + (p[v + 1] - p[from + 1]) ** 2 + (p[v + 2] - p[from + 2]) ** 2;
    if (d2 < bestD2) {
      best = patch.of[t];
      bestD2 = d2;
    }
  }
  return best;
}
