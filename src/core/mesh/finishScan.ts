import type { UpAxis } from '../plan/PlanDocument.ts';
import { uprightTurnTilt } from '../plan/uprightTurnTilt.ts';
import type { Affine } from './affine.ts';
import type { Closed } from './closeHoles.ts';
import { compactVerts } from './compactVerts.ts';
import type { FileSurface } from './describeFile.ts';
import { signedVolume } from './measure.ts';
import { measureRoughness } from './measureRoughness.ts';
import type { NoteBook } from './NoteBook.ts';
import type { PreparedScan } from './PreparedScan.ts';
import { sayLength } from './sayLength.ts';
import { boundingBox, type Vec3 } from './TriMesh.ts';

/** Less roughness than this share of the height is what Float32 and welding leave, and is not told. Own choice. */
const NOTE_ROUGH_FROM_SHARE = 1e-4;

/** Puts the parts of the answer together: base cap marked, height and volume measured, counts of the file reported. */
export function finishScan(made: {
  readonly file: FileSurface;
  readonly closed: Closed;
  readonly notes: NoteBook;
  readonly standsOnBoard: boolean;
  readonly unit: string;
  readonly mmPerFileUnit: number;
  readonly up: UpAxis;
  readonly filledAreaMm2: number;
  /** Of parts inside the body that were left in. */
  readonly innerAreaMm2: number;
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
  const roughMm = measureRoughness(mesh, closed.twins).sigmaMm;
  if (roughMm > NOTE_ROUGH_FROM_SHARE * max[2]) {
    notes.warned(
      'surface-rough',
      (system) =>
        `The surface jumps by about ${sayLength(roughMm, system)} from point to point, as the noise of a scanner does. Coats bridge that, so the bounds of all amounts are wider; smooth the scan before it is opened if the pattern is smooth.`,
    );
  }
  return {
    mesh,
    twins: closed.twins,
    isSurface,
    standsOnBoard,
    heightMm: max[2],
    volumeMm3: closed.left.length > 0 || made.innerAreaMm2 > 0 ? null : signedVolume(mesh),
    filledAreaMm2: made.filledAreaMm2,
    openAreaMm2: closed.openAreaMm2 + made.innerAreaMm2,
    roughMm,
    report: {
      triangles: file.triangles,
      vertices: file.vertices,
      components: file.components,
      openEdges: file.openEdges,
      openLoops: file.openLoops,
      nonManifoldEdges: file.nonManifoldEdges,
      sizeMm: uprightSize(file.size, made.up, made.mmPerFileUnit),
      unit: made.unit,
      warnings: notes.warnings,
      repairs: notes.repairs,
    },
    marks: notes.marks,
    fileToBoard: made.fileToBoard,
  };
}

/** The file's box, its sides in the order in which they stand after `up`, before any turn and tilt. */
function uprightSize(size: Vec3, up: UpAxis, mmPerFileUnit: number): Vec3 {
  const map = uprightTurnTilt(up, 0, [0, 0]);
  // Each row of an axis rotation has one entry of 1 or -1: it only names the side.
  const side = (row: number): number =>
    mmPerFileUnit * Math.abs(map[row] * size[0] + map[row + 1] * size[1] + map[row + 2] * size[2]);
  return [side(0), side(4), side(8)];
}
