import type { Checkpoint } from '../core/checkpoint.ts';
import { MeshError } from '../core/errors.ts';
import type { TriMesh } from '../core/mesh/TriMesh.ts';
import type { ScanNote } from '../core/PlanResult.ts';
import { FaceList } from './FaceList.ts';

/** Share of a reader's progress that is reading; the rest is splitting, which most files have no need of. */
export const SPLITTING_FROM = 0.9;

/** Gathers what a PLY reader finds: vertices, and faces of any number of corners, in whichever order the file has them. */
export class PlyMesh {
  readonly positions: Float64Array;
  private readonly faces: FaceList;

  /**
   * `vertCount` is the header's, which the caller has found to fit in the file; `expectedFaces` likewise, and only sizes
   * the first table.
   */
  constructor(
    readonly vertCount: number,
    expectedFaces: number,
  ) {
    this.positions = new Float64Array(3 * vertCount);
    this.faces = new FaceList(expectedFaces);
  }

  /** Makes room for a face's corners; `addCorner` must follow `size` times. */
  beginFace(size: number): void {
    this.faces.beginFace(size);
  }

  addCorner(vert: number): void {
    this.faces.addCorner(vert);
  }

  /**
   * The triangles, and notes about faces that were split or passed over. `facesLine` is the header's line that declares
   * faces, for the message when there are none. Throws MeshError: no-faces, too-large; and the abort reason at a
   * checkpoint.
   */
  async finish(
    facesLine: number | undefined,
    checkpoint: Checkpoint,
  ): Promise<{ mesh: TriMesh; notes: ScanNote[] }> {
    const indices = await this.faces.split(this.positions, checkpoint);
    if (indices.length === 0) this.refuseNoFaces(facesLine);
    return { mesh: { positions: this.positions, indices }, notes: this.faces.notes() };
  }

  private refuseNoFaces(facesLine: number | undefined): never {
    const where = facesLine === undefined ? '' : ` (header line ${facesLine})`;
    const { shortFaceCount } = this.faces;
    throw new MeshError(
      'no-faces',
      shortFaceCount === 0
        ? `The file holds ${this.vertCount} points and no faces${where}: it is a point cloud, not a surface. ` +
            'Make a mesh of it in the scanning program and export that.'
        : `All ${shortFaceCount} faces of the file have fewer than three corners: there is no surface. ` +
            'Export the scan again, as a mesh.',
      facesLine === undefined ? {} : { line: facesLine },
    );
  }
}
