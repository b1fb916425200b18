import { leftCode } from '../plan/leavableRepairs.ts';
import { threeDigits } from './guessUnit.ts';
import { droppedTris, keepTris } from './keepTris.ts';
import { labelParts, type Parts } from './labelParts.ts';
import { triArea } from './measure.ts';
import { countOf, type NoteBook } from './NoteBook.ts';
import type { TriMesh } from './TriMesh.ts';

/** Which triangles belong to parts of at least `share` of the largest part's area, and how many parts do not. O(n). */
export function markCrumbs(
  mesh: TriMesh,
  { parts, partCount }: Parts,
  share: number,
): { isKept: Uint8Array; crumbs: number; crumbTops: readonly number[] } {
  // A share of the largest is at most all of it, so the only part is no crumb.
  if (partCount === 1 && share <= 1) {
    return { isKept: new Uint8Array(parts.length).fill(1), crumbs: 0, crumbTops: [] };
  }
  const areas = new Float64Array(partCount);
  const tops = new Float64Array(partCount).fill(-Infinity);
  const scratch = new Float64Array(3);
  for (let t = 0; t < parts.length; t++) {
    areas[parts[t]] += triArea(mesh, t, scratch);
    const top = mesh.positions[3 * mesh.indices[3 * t] + 2];
    if (top > tops[parts[t]]) tops[parts[t]] = top;
  }
  let largest = 0;
  for (let part = 0; part < partCount; part++) largest = Math.max(largest, areas[part]);
  const isKept = new Uint8Array(parts.length);
  for (let t = 0; t < parts.length; t++) isKept[t] = areas[parts[t]] >= share * largest ? 1 : 0;
  const crumbTops: number[] = [];
  for (let part = 0; part < partCount; part++) {
    if (areas[part] < share * largest) crumbTops.push(tops[part]);
  }
  return { isKept, crumbs: crumbTops.length, crumbTops };
}

/** The mesh and its twins without the triangles whose `isKept` is 0; whole components only, so that no border appears. */
export function keepParts(
  mesh: TriMesh,
  twins: Int32Array,
  isKept: Uint8Array,
): { mesh: TriMesh; twins: Int32Array } {
  const indices = keepTris(mesh.indices, isKept);
  if (indices === mesh.indices) return { mesh, twins };
  const to = new Int32Array(isKept.length);
  let count = 0;
  for (let t = 0; t < isKept.length; t++) to[t] = isKept[t] !== 0 ? count++ : -1;
  const kept = new Int32Array(3 * count);
  for (let e = 0; e < twins.length; e++) {
    const t = (e / 3) | 0;
    if (isKept[t] === 0) continue;
    const twin = twins[e];
    kept[3 * to[t] + (e % 3)] = twin < 0 ? -1 : 3 * to[(twin / 3) | 0] + (twin % 3);
  }
  return { mesh: { positions: mesh.positions, indices }, twins: kept };
}

/**
 * The mesh without its crumbs (see markCrumbs), noted; and the heights at which the dropped crumbs lay, mm. With `leave.isLeft` they
 * stay and are told as left; `leave.onlyOnBoard` takes for crumbs only what reaches down to the board (flakes of a cut, where
 * other crumbs were left before it).
 */
export function dropCrumbs(
  input: { mesh: TriMesh; twins: Int32Array; parts: Parts },
  share: number,
  notes: NoteBook,
  code: 'crumbs-dropped' | 'flakes-dropped',
  leave: { readonly isLeft: boolean; readonly onlyOnBoard: boolean },
): { mesh: TriMesh; twins: Int32Array; parts: Parts; crumbTops: readonly number[] } {
  const marked = markCrumbs(input.mesh, input.parts, share);
  const { isKept, crumbs, crumbTops } = leave.onlyOnBoard ? onlyOnBoard(input, marked) : marked;
  const named =
    code === 'crumbs-dropped'
      ? countOf(crumbs, 'loose crumb')
      : countOf(crumbs, 'flake cut off at the board', 'flakes cut off at the board');
  const size = `of less than ${threeDigits(100 * share)} % of the largest part's area`;
  if (leave.isLeft) {
    notes.left(
      code,
      `${named} ${size} left in: the shell is laid over ${crumbs === 1 ? 'it' : 'them'}.`,
      crumbs,
    );
    notes.markedFaces(leftCode(code), input.mesh, droppedTris(isKept));
    return { ...input, crumbTops: [] };
  }
  notes.repaired(code, `${named} ${size} dropped.`, crumbs);
  if (crumbs === 0) return { ...input, crumbTops };
  notes.markedFaces(code, input.mesh, droppedTris(isKept));
  const kept = keepParts(input.mesh, input.twins, isKept);
  return { ...kept, parts: labelParts(kept.twins), crumbTops };
}

/** The same without the crumbs that have no point on the board. */
function onlyOnBoard(
  { mesh, parts: { parts, partCount } }: { mesh: TriMesh; parts: Parts },
  marked: ReturnType<typeof markCrumbs>,
): ReturnType<typeof markCrumbs> {
  const isOnBoard = new Uint8Array(partCount);
  for (let i = 0; i < mesh.indices.length; i++) {
    if (mesh.positions[3 * mesh.indices[i] + 2] === 0) isOnBoard[parts[(i / 3) | 0]] = 1;
  }
  const isKept = marked.isKept.map((kept, t) => (kept !== 0 || isOnBoard[parts[t]] === 0 ? 1 : 0));
  const flakes = new Set<number>();
  for (let t = 0; t < isKept.length; t++) if (isKept[t] === 0) flakes.add(parts[t]);
  return { isKept, crumbs: flakes.size, crumbTops: [] };
}
