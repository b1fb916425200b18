import type { Affine } from './affine.ts';
import type { Closed } from './closeHoles.ts';
import { compactVerts } from './compactVerts.ts';
import type { FileSurface } from './describeFile.ts';
import { signedVolume } from './measure.ts';
import type { NoteBook } from './NoteBook.ts';
import type { PreparedScan } from './PreparedScan.ts';
import { boundingBox } from './TriMesh.ts';

/** Puts the parts of the answer together: base cap marked, height and volume measured, counts of the file reported. */
export function finishScan(made: {
  readonly file: FileSurface;
  readonly closed: Closed;
  readonly notes: NoteBook;
  readonly standsOnBoard: boolean;
  readonly unit: string;
  readonly mmPerFileUnit: number;
  readonly filledAreaMm2: number;
  readonly fileToBoard: Affine;
}): PreparedScan {
  const { file, closed, notes, standsOnBoard } = made;
  const mesh = compactVerts(closed.mesh);
  const { positions: p, indices } = mesh;
  const isSurface = new Uint8Array(indices.length / 3).fill(1);
  for (let t = 0; standsOnBoard && t < isSurface.length; t++) {
    const i = 3 * t;
    const onBoard =
      p[3 * indices[i] + 2] === 0 && p[3 * indices[i + 1] + 2] === 0 && p[3 * indices[i + 2] + 2] === 0;
    if (onBoard) isSurface[t] = 0;
  }
  const { max } = boundingBox(mesh);
  const [x, y, z] = file.size;
  return {
    mesh,
    twins: closed.twins,
    isSurface,
    standsOnBoard,
    heightMm: max[2],
    volumeMm3: closed.left.length > 0 ? null : signedVolume(mesh),
    filledAreaMm2: made.filledAreaMm2,
    report: {
      triangles: file.triangles,
      vertices: file.vertices,
      components: file.components,
      openEdges: file.openEdges,
      openLoops: file.openLoops,
      nonManifoldEdges: file.nonManifoldEdges,
      sizeMm: [x * made.mmPerFileUnit, y * made.mmPerFileUnit, z * made.mmPerFileUnit],
      unit: made.unit,
      warnings: notes.warnings,
      repairs: notes.repairs,
    },
    marks: notes.marks,
    fileToBoard: made.fileToBoard,
  };
}
