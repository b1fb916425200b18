import { cornersOf } from './cornersOf.ts';
import { EdgeTable } from './EdgeTable.ts';
import { nextInTri } from './halfEdges.ts';
import type { ScanMark } from './PreparedScan.ts';
import type { TriMesh } from './TriMesh.ts';
import { vectorLength } from './vectorLength.ts';

/** Patches with a mark of their own; smaller ones share one. More would cover what they mark. Own choice. */
const MOST_PATCHES = 60;
/** Faces and border edges drawn of one kind: about a megabyte. Of more, evenly picked ones. Own choice. */
const MOST_FACES = 12_000;
/** Loose points of one kind. Own choice. */
export const MOST_SPOTS = 300;

/**
 * The chosen faces of a mesh as marks: each patch of faces that share vertices is one, largest area first, with its triangles,
 * its border and, as its point, the middle of its face nearest to the patch's centre.
 *
 * @param tris numbers of the chosen triangles
 * Cost: O(n) in the chosen faces and the mesh's vertices, no hashing.
 */
export function patchesOf(
  code: string,
  { positions: p, indices }: TriMesh,
  tris: ArrayLike<number>,
): ScanMark[] {
  const count = tris.length;
  if (count === 0) return [];
  const chosen = new Uint32Array(3 * count);
  for (let i = 0; i < count; i++) for (let k = 0; k < 3; k++) chosen[3 * i + k] = indices[3 * tris[i] + k];
  const label = labelPatches(chosen, p.length / 3);
  const patchCount = label.reduce((most, one) => Math.max(most, one + 1), 0);
  const areas = new Float64Array(patchCount);
  for (let i = 0; i < count; i++) areas[label[i]] += areaOf(p, chosen, i);
  // By falling area; beyond the last place of its own each patch shares the last mark.
  const rank = new Uint32Array(patchCount);
  Array.from(areas.keys())
    .sort((a, b) => areas[b] - areas[a])
    .forEach((patch, at) => {
      rank[patch] = at;
    });
  const markCount = Math.min(patchCount, MOST_PATCHES);
  const facesOf: number[][] = Array.from({ length: markCount }, () => []);
  for (let i = 0; i < count; i++) facesOf[Math.min(rank[label[i]], markCount - 1)].push(i);
  const edgesOf = bordersOf(chosen, (i) => Math.min(rank[label[i]], markCount - 1), markCount);
  const faceStep = Math.ceil(count / MOST_FACES);
  const edgeCount = edgesOf.reduce((sum, edges) => sum + edges.length, 0);
  const edgeStep = Math.max(1, Math.ceil(edgeCount / MOST_FACES));
  return facesOf.map((faces, mark) => {
    const drawn = faces.filter((_, n) => n % faceStep === 0);
    const corners = drawn.flatMap((i) => [chosen[3 * i], chosen[3 * i + 1], chosen[3 * i + 2]]);
    const ends = edgesOf[mark]
      .filter((_, n) => n % edgeStep === 0)
      .flatMap((e) => [chosen[e], chosen[nextInTri(e)]]);
    return {
      code,
      points: spotsOf(p, chosen, faces, label),
      isLoop: false,
      tris: cornersOf({ positions: p }, corners),
      edges: cornersOf({ positions: p }, ends),
      faces: faces.length,
    };
  });
}

/** At most MOST_SPOTS of the points, evenly picked. */
export function thinSpots(points: Float64Array): Float64Array {
  const step = Math.ceil(points.length / 3 / MOST_SPOTS);
  return step <= 1 ? points : points.filter((_, i) => Math.floor(i / 3) % step === 0);
}

/** By face: a number from 0, the same for faces joined by vertices. Union-find with path halving. */
function labelPatches(chosen: Uint32Array, vertCount: number): Int32Array {
  const parent = new Int32Array(vertCount).fill(-1);
  const rootOf = (vert: number): number => {
    let v = vert;
    while (parent[v] !== v) v = parent[v] = parent[parent[v]];
    return v;
  };
  for (const v of chosen) parent[v] = v;
  for (let i = 0; i < chosen.length; i += 3) {
    for (let k = 1; k < 3; k++) {
      const a = rootOf(chosen[i]);
      const b = rootOf(chosen[i + k]);
      if (a !== b) parent[Math.max(a, b)] = Math.min(a, b);
    }
  }
  const numbers = new Int32Array(vertCount).fill(-1);
  const label = new Int32Array(chosen.length / 3);
  let next = 0;
  for (let i = 0; i < label.length; i++) {
    const root = rootOf(chosen[3 * i]);
    if (numbers[root] < 0) numbers[root] = next++;
    label[i] = numbers[root];
  }
  return label;
}

/** By mark: half-edges that only one of the chosen faces has. */
function bordersOf(chosen: Uint32Array, markOf: (face: number) => number, markCount: number): number[][] {
  const out: number[][] = Array.from({ length: markCount }, () => []);
  const table = new EdgeTable(chosen);
  for (let edge = 0; edge < table.count; edge++) {
    const e = table.first[edge];
    if (table.next[e] < 0) out[markOf((e / 3) | 0)].push(e);
  }
  return out;
}

/** For each patch among the faces (a mark that several share has several) the middle of its face nearest to its centre. */
function spotsOf(
  p: Float64Array,
  chosen: Uint32Array,
  faces: readonly number[],
  label: Int32Array,
): Float64Array {
  const sums = new Map<number, { readonly sum: number[]; area: number }>();
  for (const i of faces) {
    const area = areaOf(p, chosen, i);
    const own = sums.get(label[i]) ?? { sum: [0, 0, 0], area: 0 };
    sums.set(label[i], own);
    own.area += area;
    for (let k = 0; k < 3; k++) own.sum[k] += area * middle(p, chosen, i, k);
  }
  const best = new Map<number, { readonly face: number; readonly away2: number }>();
  for (const i of faces) {
    const { sum, area } = sums.get(label[i])!;
    let away2 = 0;
    for (let k = 0; k < 3; k++) away2 += (middle(p, chosen, i, k) - (area > 0 ? sum[k] / area : 0)) ** 2;
    if (away2 < (best.get(label[i])?.away2 ?? Infinity)) best.set(label[i], { face: i, away2 });
  }
  const spots = Array.from(best.values(), ({ face }) => [0, 1, 2].map((k) => middle(p, chosen, face, k)));
  return thinSpots(Float64Array.from(spots.flat()));
}

function middle(p: Float64Array, chosen: Uint32Array, i: number, k: number): number {
  return (p[3 * chosen[3 * i] + k] + p[3 * chosen[3 * i + 1] + k] + p[3 * chosen[3 * i + 2] + k]) / 3;
}

function areaOf(p: Float64Array, chosen: Uint32Array, i: number): number {
  const [a, b, c] = [3 * chosen[3 * i], 3 * chosen[3 * i + 1], 3 * chosen[3 * i + 2]];
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  return vectorLength(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx) / 2;
}
