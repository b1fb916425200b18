import { MeshError } from '../errors.ts';
import type { CropPlane } from '../plan/PlanDocument.ts';
import { buildTwins } from './buildTwins.ts';
import { cutByPlane } from './cutByPlane.ts';
import { countOf, type NoteBook } from './NoteBook.ts';
import type { TriMesh } from './TriMesh.ts';

/**
 * The mesh cut by every crop plane in turn, kept where normal . x <= offsetMm; normals need not have length 1. Noted.
 * Throws MeshError below-board when nothing is left.
 */
export function cropAway(
  input: { mesh: TriMesh; twins: Int32Array },
  crops: readonly CropPlane[],
  snapMm: number,
  notes: NoteBook,
): { mesh: TriMesh; twins: Int32Array } {
  let mesh = input.mesh;
  let gone = 0;
  for (const { normal, offsetMm } of crops) {
    const length = Math.hypot(...normal);
    const [x, y, z] = normal;
    const unit = [x / length, y / length, z / length] as const;
    const made = cutByPlane(mesh, { normal: unit, offset: offsetMm / length }, snapMm);
    notes.markedFaces('cropped', mesh, made.goneTris);
    mesh = made.mesh;
    gone += made.dropped + made.cut;
  }
  if (mesh.indices.length === 0) {
    throw new MeshError(
      'below-board',
      'The crop planes take the whole scan away. Move a plane, or turn its normal round: kept is the side where normal . x is at most its offset.',
    );
  }
  notes.repaired('cropped', `${countOf(gone, 'face')} cut or taken away by the crop.`, gone);
  return mesh === input.mesh ? input : { mesh, twins: buildTwins(mesh.indices).twins };
}
