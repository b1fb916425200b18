import { WindingTree } from '../spatial/WindingTree.ts';
import { keepParts } from './dropCrumbs.ts';
import { droppedTris, keepTris } from './keepTris.ts';
import { labelParts } from './labelParts.ts';
import { triArea } from './measure.ts';
import { countOf, type NoteBook } from './NoteBook.ts';
import type { TriMesh } from './TriMesh.ts';

/** Vertices asked of every part; all must lie inside. */
const SAMPLES = 24;

/**
 * The mesh without parts that lie wholly inside the largest one, such as the inner wall of a hollow model: no rubber
 * touches them. Told by the winding number of the largest part, mirrored in the board when it stands there. Noted.
 */
export function dropInner(
  input: { mesh: TriMesh; twins: Int32Array },
  standsOnBoard: boolean,
  notes: NoteBook,
): { mesh: TriMesh; twins: Int32Array } {
  const { mesh, twins } = input;
  const { parts, partCount } = labelParts(twins);
  if (partCount < 2) return input;
  const areas = new Float64Array(partCount);
  const scratch = new Float64Array(3);
  for (let t = 0; t < parts.length; t++) areas[parts[t]] += triArea(mesh, t, scratch);
  let largest = 0;
  for (let part = 1; part < partCount; part++) if (areas[part] > areas[largest]) largest = part;
  const isLargest = new Uint8Array(parts.length);
  const faces: number[][] = Array.from({ length: partCount }, () => []);
  for (let t = 0; t < parts.length; t++) {
    if (parts[t] === largest) isLargest[t] = 1;
    else faces[parts[t]].push(t);
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
    let isInside = part !== largest;
    for (let i = 0; isInside && i < own.length; i += step) {
      const v = 3 * mesh.indices[3 * own[i]];
      const w = tree.windingNumber(mesh.positions[v], mesh.positions[v + 1], mesh.positions[v + 2]);
      isInside = w > 0.5;
    }
    if (!isInside) continue;
    isInner[part] = 1;
    dropped++;
  }
  if (dropped === 0) return input;
  notes.repaired(
    'inner-parts-dropped',
    `${countOf(dropped, 'part')} wholly inside the scan dropped: the rubber does not touch ${dropped === 1 ? 'it' : 'them'}.`,
    dropped,
  );
  const isKept = new Uint8Array(parts.length);
  for (let t = 0; t < parts.length; t++) isKept[t] = isInner[parts[t]] === 0 ? 1 : 0;
  notes.markedFaces('inner-parts-dropped', mesh, droppedTris(isKept));
  return keepParts(mesh, twins, isKept);
}
