import { MeshError } from '../errors.ts';
import { leftCode } from '../plan/leavableRepairs.ts';
import { buildTwins } from './buildTwins.ts';
import { cornersOf } from './cornersOf.ts';
import { cutByPlane } from './cutByPlane.ts';
import { extrudeSkirt } from './extrudeSkirt.ts';
import { isFoot } from './isFoot.ts';
import { labelParts, type Parts } from './labelParts.ts';
import { loopPoints, measureLoop } from './measureLoop.ts';
import { countOf, type NoteBook } from './NoteBook.ts';
import { sayLength } from './sayLength.ts';
import { boundingBox, type TriMesh } from './TriMesh.ts';
import { traceLoops } from './traceLoops.ts';

/**
 * The part above the board: cut exactly at z = 0, all below dropped; where an open foot still hangs above the board it is
 * brought down by a straight skirt, noted with a warning; or with `isSkirtLeft` left hanging, which is told. Throws MeshError below-board when nothing is left.
 */
export function clipAtBoard(
  input: { mesh: TriMesh; twins: Int32Array; parts: Parts },
  snapMm: number,
  isSkirtLeft: boolean,
  notes: NoteBook,
): { mesh: TriMesh; twins: Int32Array; parts: Parts; skirtAreaMm2: number } {
  let mesh = cutAtBoard(input.mesh, snapMm, notes);
  const box = boundingBox(mesh);
  if (!(box.max[2] > snapMm)) {
    throw new MeshError(
      'below-board',
      'Nothing of the scan lies above the board. Lower the board, or turn the scan over.',
    );
  }
  let twins = mesh === input.mesh ? input.twins : buildTwins(mesh.indices).twins;
  let skirtAreaMm2 = 0;
  let skirts = 0;
  let widestMm = 0;
  // Each foot once, and no foot of a skirt: where the wall of a skirt meets other faces on its edges it closes nothing, and
  // would be asked for again without end.
  const halfEdgeCount = mesh.indices.length;
  const skirted = new Set<number>();
  for (;;) {
    const foot = traceLoops(twins)
      .map((halfEdges) => measureLoop(mesh, halfEdges))
      .find((loop) => {
        const [e] = loop.halfEdges;
        return e < halfEdgeCount && !skirted.has(e) && isFoot(loop, box);
      });
    if (!foot) break;
    skirted.add(foot.halfEdges[0]);
    skirts++;
    widestMm = Math.max(widestMm, foot.max[2]);
    if (isSkirtLeft) {
      notes.markedLoop(leftCode('skirt-added'), loopPoints(mesh, foot.halfEdges));
      continue;
    }
    const made = extrudeSkirt(mesh, foot.halfEdges);
    notes.markedLoop(
      'skirt-added',
      loopPoints(mesh, foot.halfEdges),
      cornersOf(made.mesh, made.mesh.indices.subarray(mesh.indices.length)),
    );
    mesh = made.mesh;
    skirtAreaMm2 += made.areaMm2;
    twins = buildTwins(mesh.indices).twins;
  }
  const places = skirts > 1 ? `, in ${skirts} places` : '';
  if (isSkirtLeft) {
    notes.left(
      'skirt-added',
      (system) =>
        `Its open foot is left with a gap of up to ${sayLength(widestMm, system)} above the board${places}; volumes near it are uncertain.`,
      skirts,
    );
  } else
    notes.warned(
      'skirt-added',
      (system) =>
        `Its open foot leaves a gap of up to ${sayLength(widestMm, system)} above the board; a straight skirt was added down to the board${places}.`,
      skirts,
    );
  const parts = twins === input.twins ? input.parts : labelParts(twins);
  return { mesh, twins, parts, skirtAreaMm2 };
}

/** The mesh cut exactly at z = 0, all below dropped; noted unless nothing lay there. */
export function cutAtBoard(mesh: TriMesh, snapMm: number, notes: NoteBook): TriMesh {
  const clipped = cutByPlane(mesh, { normal: [0, 0, -1], offset: 0 }, snapMm);
  notes.repaired(
    'clipped-at-board',
    `${countOf(clipped.dropped + clipped.cut, 'face')} at or below the board cut off or dropped.`,
    clipped.dropped + clipped.cut,
  );
  notes.markedFaces('clipped-at-board', mesh, clipped.goneTris);
  return clipped.mesh;
}
