import { leftCode } from '../plan/leavableRepairs.ts';
import { WindingTree } from '../spatial/WindingTree.ts';
import { buildTwins } from './buildTwins.ts';
import { droppedTris, keepTris } from './keepTris.ts';
import { labelParts, type Parts } from './labelParts.ts';
import { triArea } from './measure.ts';
import { countOf, type NoteBook } from './NoteBook.ts';
import type { TriMesh } from './TriMesh.ts';

/** Parts inside the body that were left in. */
export interface LeftInner {
  /** Nobody knows whether rubber reaches it, mm2. */
  readonly areaMm2: number;
  /** By face: 0 where it belongs to them. */
  readonly isOuter: Uint8Array;
}

/** Vertices asked of every part; all must lie inside. */
const SAMPLES = 24;

/**
 * The mesh without parts that lie wholly inside the largest one, such as the inner wall of a hollow model: no rubber
 * touches them. Told by the winding number of the largest part, mirrored in the board when it stands there. Faces that lie
 * on the board join no parts, since the board closes what is above it: a hollow model that stands on the rim of its wall
 * has its inside dropped with that rim. Noted. With `isLeft` they stay and are told as left.
 */
export function dropInner(
  input: { mesh: TriMesh; twins: Int32Array; parts: Parts },
  standsOnBoard: boolean,
  isLeft: boolean,
  notes: NoteBook,
): { mesh: TriMesh; twins: Int32Array; left: LeftInner | null } {
  const { mesh, twins } = input;
  const asGiven = { ...input, left: null };
  const base = standsOnBoard ? facesOnBoard(mesh) : null;
  const lies = (t: number): boolean => base !== null && base[t] !== 0;
  const { parts, partCount } = base === null ? input.parts : labelParts(cutOffBoard(twins, base));
  if (partCount < 2) return asGiven;
  const isBase = new Uint8Array(partCount);
  for (let t = 0; t < parts.length; t++) if (lies(t)) isBase[parts[t]] = 1;
  // A body and the base under it need no question.
  if (partCount - isBase.reduce((sum, flag) => sum + flag, 0) < 2) return asGiven;
  const areas = new Float64Array(partCount);
  const scratch = new Float64Array(3);
  for (let t = 0; t < parts.length; t++)
    if (isBase[parts[t]] === 0) areas[parts[t]] += triArea(mesh, t, scratch);
  let largest = 0;
  for (let part = 1; part < partCount; part++) if (areas[part] > areas[largest]) largest = part;
  const isLargest = new Uint8Array(parts.length);
  const faces: number[][] = Array.from({ length: partCount }, () => []);
  for (let t = 0; t < parts.length; t++) {
    if (parts[t] === largest) isLargest[t] = 1;
    else if (isBase[parts[t]] === 0) faces[parts[t]].push(t);
  }
  const tree = new WindingTree(
    { positions: mesh.positions, indices: keepTris(mesh.indices, isLargest) },
    { mirrorInBoard: standsOnBoard },
  );
  const isInner = new Uint8Array(partCount);
  let dropped = 0;
  for (let part = 0; part < partCount; part++) {
    const own = faces[part];
    const step = Math.max(1, Math.floor(own.length / SAMPLES));
    let isInside = part !== largest && own.length > 0;
    for (let i = 0; isInside && i < own.length; i += step) {
      const v = 3 * mesh.indices[3 * own[i]];
      const w = tree.windingNumber(mesh.positions[v], mesh.positions[v + 1], mesh.positions[v + 2]);
      isInside = w > 0.5;
    }
    if (!isInside) continue;
    isInner[part] = 1;
    dropped++;
  }
  if (dropped === 0) return asGiven;
  const isKept = new Uint8Array(parts.length);
  for (let t = 0; t < parts.length; t++) isKept[t] = isInner[parts[t]] === 0 ? 1 : 0;
  if (isLeft) {
    notes.left(
      'inner-parts-dropped',
      `${countOf(dropped, 'part')} wholly inside the scan left in: counted into the rubber's area and its undercuts, and the bounds are as wide as if the shell might cover ${dropped === 1 ? 'it' : 'them'} or not.`,
      dropped,
    );
    notes.markedFaces(leftCode('inner-parts-dropped'), mesh, droppedTris(isKept));
    const areaMm2 = areas.reduce((sum, area, part) => sum + isInner[part] * area, 0);
    return { ...input, left: { areaMm2, isOuter: isKept } };
  }
  notes.repaired(
    'inner-parts-dropped',
    `${countOf(dropped, 'part')} wholly inside the scan dropped: the rubber does not touch ${dropped === 1 ? 'it' : 'them'}.`,
    dropped,
  );
  let isHollowBase = false;
  notes.markedFaces('inner-parts-dropped', mesh, droppedTris(isKept));
  // A base that reaches into the hollow goes too: the board is there.
  for (let t = 0; t < parts.length; t++) if (lies(t) && touchesDropped(twins, isKept, t)) isHollowBase = true;
  for (let t = 0; isHollowBase && t < parts.length; t++) if (lies(t)) isKept[t] = 0;
  const indices = keepTris(mesh.indices, isKept);
  return { mesh: { positions: mesh.positions, indices }, twins: buildTwins(indices).twins, left: null };
}

/** By face: 1 where it lies on the board; null where none does. */
function facesOnBoard({ positions: p, indices }: TriMesh): Uint8Array | null {
  let base: Uint8Array | null = null;
  for (let i = 0; i < indices.length; i += 3) {
    if (p[3 * indices[i] + 2] === 0 && p[3 * indices[i + 1] + 2] === 0 && p[3 * indices[i + 2] + 2] === 0) {
      base ??= new Uint8Array(indices.length / 3);
      base[i / 3] = 1;
    }
  }
  return base;
}

/** The twins without those between a face that lies on the board and one that does not. */
function cutOffBoard(twins: Int32Array, base: Uint8Array): Int32Array {
  const out = twins.slice();
  for (let e = 0; e < out.length; e++) {
    if (out[e] >= 0 && base[(e / 3) | 0] !== base[(out[e] / 3) | 0]) out[e] = -1;
  }
  return out;
}

function touchesDropped(twins: Int32Array, isKept: Uint8Array, t: number): boolean {
  for (let e = 3 * t; e < 3 * t + 3; e++) if (twins[e] >= 0 && isKept[(twins[e] / 3) | 0] === 0) return true;
  return false;
}
