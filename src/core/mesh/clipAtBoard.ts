import { MeshError } from '../errors.ts';
import { buildTwins } from './buildTwins.ts';
import { cornersOf } from './cornersOf.ts';
import { cutByPlane } from './cutByPlane.ts';
import { extrudeSkirt } from './extrudeSkirt.ts';
import { loopPoints, measureLoop, type OpenLoop } from './measureLoop.ts';
import { countOf, type NoteBook } from './NoteBook.ts';
import { sayLength } from './sayLength.ts';
import { boundingBox, type TriMesh } from './TriMesh.ts';
import { traceLoops } from './traceLoops.ts';

/** A loop is the foot of the scan when a lid over it covers at least this share of the footprint. */
const LEAST_COVER = 0.05;
/** Only a foot within this share of the height from the board gets a skirt; a higher opening may be meant. */
const SKIRT_SHARE = 0.3;

/**
 * The part above the board: cut exactly at z = 0, all below dropped; where an open foot still hangs above the board it is
 * brought down by a straight skirt, noted with a warning. Throws MeshError below-board when nothing is left.
 */
export function clipAtBoard(
  input: { mesh: TriMesh; twins: Int32Array },
  snapMm: number,
  notes: NoteBook,
): { mesh: TriMesh; twins: Int32Array; skirtAreaMm2: number } {
  const clipped = cutByPlane(input.mesh, { normal: [0, 0, -1], offset: 0 }, snapMm);
  notes.repaired(
    'clipped-at-board',
    `${countOf(clipped.dropped + clipped.cut, 'face')} at or below the board cut off or dropped.`,
    clipped.dropped + clipped.cut,
  );
  notes.markedFaces('clipped-at-board', input.mesh, clipped.goneTris);
  let mesh = clipped.mesh;
  const box = boundingBox(mesh);
  if (!(box.max[2] > snapMm)) {
    throw new MeshError(
      'below-board',
      'Nothing of the scan lies above the board. Lower the board, or turn the scan over.',
    );
  }
  let twins = mesh === input.mesh ? input.twins : buildTwins(mesh.indices).twins;
  const footprint = (box.max[0] - box.min[0]) * (box.max[1] - box.min[1]);
  const isFoot = (loop: OpenLoop): boolean =>
    loop.max[2] > 0 && loop.max[2] <= SKIRT_SHARE * box.max[2] && -loop.lid[2] >= LEAST_COVER * footprint;
  let skirtAreaMm2 = 0;
  for (;;) {
    const foot = traceLoops(twins)
      .map((halfEdges) => measureLoop(mesh, halfEdges))
      .find(isFoot);
    if (!foot) return { mesh, twins, skirtAreaMm2 };
    notes.warned(
      'skirt-added',
      (system) =>
        `Its open foot leaves a gap of up to ${sayLength(foot.max[2], system)} above the board; a straight skirt was added down to the board.`,
    );
    const skirted = extrudeSkirt(mesh, foot.halfEdges);
    notes.markedLoop(
      'skirt-added',
      loopPoints(mesh, foot.halfEdges),
      cornersOf(skirted.mesh, skirted.mesh.indices.subarray(mesh.indices.length)),
    );
    mesh = skirted.mesh;
    skirtAreaMm2 += skirted.areaMm2;
    twins = buildTwins(mesh.indices).twins;
  }
}
