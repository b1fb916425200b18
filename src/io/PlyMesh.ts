import type { Checkpoint } from '../core/checkpoint.ts';
import { MeshError } from '../core/errors.ts';
import type { TriMesh } from '../core/mesh/TriMesh.ts';
import type { ScanNote } from '../core/PlanResult.ts';
import { MAX_CLIPPED_CORNERS, splitPolygon } from './splitPolygon.ts';

/** Share of a PLY reader's progress that is reading; the rest is splitting, which most files have no need of. */
export const SPLITTING_FROM = 0.9;

/**
 * Gathers what a PLY reader finds: vertices, and faces of any number of corners, in whichever order the file has them.
 * Polygons are split at the end, when all vertices are known.
 */
export class PlyMesh {
  readonly positions: Float64Array;
  private corners: Uint32Array;
  private cornerCount = 0;
  /** Place in `corners`, number of corners; for faces that are not triangles. */
  private polygons = new Uint32Array(0);
  private polygonCount = 0;
  private shortFaceCount = 0;

  /**
   * `vertCount` is the header's, which the caller has found to fit in the file; `expectedFaces` likewise, and only sizes
   * the first table.
   */
  constructor(
    readonly vertCount: number,
    expectedFaces: number,
  ) {
    this.positions = new Float64Array(3 * vertCount);
    this.corners = new Uint32Array(3 * expectedFaces);
  }

  /** Makes room for a face's corners; `addCorner` must follow `size` times. */
  beginFace(size: number): void {
    if (this.cornerCount + size > this.corners.length) {
      const grown = new Uint32Array(Math.max(this.cornerCount + size, Math.ceil(1.5 * this.corners.length)));
      grown.set(this.corners);
      this.corners = grown;
    }
    if (size === 3) return;
    if (2 * this.polygonCount === this.polygons.length) {
      const grown = new Uint32Array(Math.max(64, 2 * this.polygons.length));
      grown.set(this.polygons);
      this.polygons = grown;
    }
    this.polygons[2 * this.polygonCount] = this.cornerCount;
    this.polygons[2 * this.polygonCount + 1] = size;
    this.polygonCount++;
    if (size < 3) this.shortFaceCount++;
  }

  addCorner(vert: number): void {
    this.corners[this.cornerCount++] = vert;
  }

  /**
   * The triangles, and notes about faces that were split or passed over. `facesLine` is the header's line that declares
   * faces, for the message when there are none. Throws MeshError: no-faces, too-large; and the abort reason at a
   * checkpoint, because a file of large polygons takes longer to split than to read.
   */
  async finish(
    facesLine: number | undefined,
    checkpoint: Checkpoint,
  ): Promise<{ mesh: TriMesh; notes: ScanNote[] }> {
    const indices = await this.splitPolygons(checkpoint);
    if (indices.length === 0) this.refuseNoFaces(facesLine);
    const splitCount = this.polygonCount - this.shortFaceCount;
    const notes: ScanNote[] = [];
    if (splitCount > 0) {
      notes.push({
        code: 'polygons-split',
        text: `${splitCount} faces of four or more corners were split into triangles.`,
        count: splitCount,
      });
    }
    if (this.shortFaceCount > 0) {
      notes.push({
        code: 'short-faces-dropped',
        text: `${this.shortFaceCount} faces of fewer than three corners were passed over.`,
        count: this.shortFaceCount,
      });
    }
    return { mesh: { positions: this.positions, indices }, notes };
  }

  private refuseNoFaces(facesLine: number | undefined): never {
    const where = facesLine === undefined ? '' : ` (header line ${facesLine})`;
    throw new MeshError(
      'no-faces',
      this.shortFaceCount === 0
        ? `The file holds ${this.vertCount} points and no faces${where}: it is a point cloud, not a surface. ` +
            'Make a mesh of it in the scanning program and export that.'
        : `All ${this.shortFaceCount} faces of the file have fewer than three corners: there is no surface. ` +
            'Export the scan again, as a mesh.',
      facesLine === undefined ? {} : { line: facesLine },
    );
  }

  private async splitPolygons(checkpoint: Checkpoint): Promise<Uint32Array> {
    const { corners, cornerCount, polygons, polygonCount } = this;
    if (polygonCount === 0) {
      return corners.length === cornerCount ? corners : corners.slice(0, cornerCount);
    }
    let triCorners = cornerCount;
    for (let i = 0; i < polygonCount; i++) {
      const size = polygons[2 * i + 1];
      triCorners += 3 * Math.max(0, size - 2) - size;
    }
    const indices = new Uint32Array(triCorners);
    let filled = 0;
    const write = (a: number, b: number, c: number): void => {
      indices[filled++] = a;
      indices[filled++] = b;
      indices[filled++] = c;
    };
    let copied = 0;
    for (let i = 0; i < polygonCount; i++) {
      const at = polygons[2 * i];
      const size = polygons[2 * i + 1];
      if (checkpoint.due()) await checkpoint.pause(i / polygonCount);
      indices.set(corners.subarray(copied, at), filled);
      filled += at - copied;
      copied = at + size;
      if (size >= 3 && !splitPolygon(this.positions, corners, at, size, write)) {
        throw new MeshError(
          'too-large',
          `A face has ${size} corners and is not convex; at most ${MAX_CLIPPED_CORNERS} can be split here. ` +
            'Export the scan as triangles.',
        );
      }
    }
    indices.set(corners.subarray(copied, cornerCount), filled);
    return indices;
  }
}
