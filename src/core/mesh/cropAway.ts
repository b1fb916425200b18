import { MeshError } from '../errors.ts';
import { leftCode } from '../plan/leavableRepairs.ts';
import type { CropPlane } from '../plan/PlanDocument.ts';
import { formatArea } from '../units.ts';
import { buildTwins } from './buildTwins.ts';
import { capCut } from './capCut.ts';
import { cutAtBoard } from './clipAtBoard.ts';
import { cutByPlane } from './cutByPlane.ts';
import { labelParts, type Parts } from './labelParts.ts';
import { countOf, type NoteBook } from './NoteBook.ts';
import { splitFans } from './splitFans.ts';
import type { TriMesh } from './TriMesh.ts';

/**
 * The mesh cut by every crop plane in turn, kept where normal . x <= offsetMm, and each cut closed flat (capCut) before the
 * next, so that a body stays a body. Normals need not have length 1. What stands on the board is cut there first: a cut that
 * comes down to it ends on it. Noted. With `areCutsLeft` the cuts stay open, which is told.
 * Throws MeshError below-board when nothing is left.
 */
export function cropAway(
  input: { mesh: TriMesh; twins: Int32Array; parts: Parts },
  crops: readonly CropPlane[],
  snapMm: number,
  standsOnBoard: boolean,
  areCutsLeft: boolean,
  notes: NoteBook,
): { mesh: TriMesh; twins: Int32Array; parts: Parts } {
  if (crops.length === 0) return input;
  let mesh = standsOnBoard ? cutAtBoard(input.mesh, snapMm, notes) : input.mesh;
  // Nothing above the board: told by the clip at the board, which comes next.
  if (mesh.indices.length === 0) return input;
  let gone = 0;
  let closed = 0;
  let areaMm2 = 0;
  let straight = 0;
  let left = 0;
  for (const { normal, offsetMm } of crops) {
    const length = Math.hypot(...normal);
    const [x, y, z] = normal;
    const side = { normal: [x / length, y / length, z / length] as const, offset: offsetMm / length };
    const made = cutByPlane(mesh, side, snapMm);
    if (made.goneTris.length === 0) continue;
    notes.markedFaces('cropped', mesh, made.goneTris);
    gone += made.goneTris.length;
    const capped = capCut(made.mesh, side, snapMm, standsOnBoard);
    for (const { points, tris } of capped.caps)
      notes.markedLoop(
        areCutsLeft ? leftCode('cut-closed') : 'cut-closed',
        points,
        areCutsLeft ? undefined : tris,
      );
    for (const points of capped.left) notes.markedLoop('cut-left-open', points);
    mesh = areCutsLeft ? made.mesh : capped.mesh;
    closed += capped.caps.length;
    areaMm2 += capped.areaMm2;
    straight += capped.straight;
    left += capped.left.length;
  }
  if (mesh.indices.length === 0) {
    throw new MeshError(
      'below-board',
      'The crop planes take the whole scan away. Move a plane, or turn its normal round: kept is the side where normal . x is at most its offset.',
    );
  }
  notes.repaired('cropped', `${countOf(gone, 'face')} cut or taken away by the crop.`, gone);
  const across =
    straight > 0 ? ` Open edges of the scan were bridged straight in ${countOf(straight, 'place')}.` : '';
  if (areCutsLeft) {
    notes.left(
      'cut-closed',
      (system) =>
        `${countOf(closed, 'cut face')} of the crop left open, ${formatArea(areaMm2, system)} in all; volumes near ${closed === 1 ? 'it' : 'them'} are uncertain.`,
      closed,
    );
  } else
    notes.repaired(
      'cut-closed',
      (system) =>
        `${countOf(closed, 'cut face')} of the crop closed flat, ${formatArea(areaMm2, system)} in all; the shell is laid over ${closed === 1 ? 'it' : 'them'}.${across}`,
      closed,
    );
  notes.warned(
    'cut-left-open',
    `${countOf(left, 'outline')} of the crop left open: no flat fits where an outline crosses or touches itself, or surrounds nothing. Move the plane a little, or mend the scan there; volumes near it are uncertain.`,
    left,
  );
  if (mesh === input.mesh) return input;
  const { twins } = buildTwins(mesh.indices);
  // Where the plane meets the surface in a point, two caps share a vertex.
  return { mesh: splitFans(mesh, twins).mesh, twins, parts: labelParts(twins) };
}
