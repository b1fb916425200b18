import type { Checkpoint } from '../core/checkpoint.ts';
import { MeshError } from '../core/errors.ts';
import type { ScanNote } from '../core/PlanResult.ts';
import { MAX_CLIPPED_CORNERS, MOST_LOOKS, type SplitBudget, splitPolygon } from './splitPolygon.ts';

/** Faces of any number of corners, gathered while a file is read; polygons are split at the end, when all vertices are known. */
export class FaceList {
  /** Faces of fewer than three corners, which `split` leaves out. */
  shortFaceCount = 0;
  private corners: Uint32Array;
  private cornerCount = 0;
  /** Place in `corners`, number of corners; for faces that are not triangles. */
  private polygons = new Uint32Array(0);
  private polygonCount = 0;

  /** `expectedFaces` only sizes the first table. */
  constructor(expectedFaces: number) {
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

  /** What was split or passed over, for people. */
  notes(): ScanNote[] {
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
    return notes;
  }

  /**
   * The faces as triangles, in their order. Throws MeshError too-large; and the abort reason at a checkpoint, because a file
   * of large polygons takes longer to split than to read.
   */
  async split(positions: Float64Array, checkpoint: Checkpoint): Promise<Uint32Array> {
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
    const budget: SplitBudget = { looksLeft: MOST_LOOKS };
    let copied = 0;
    for (let i = 0; i < polygonCount; i++) {
      const at = polygons[2 * i];
      const size = polygons[2 * i + 1];
      if (checkpoint.due()) await checkpoint.pause(i / polygonCount);
      indices.set(corners.subarray(copied, at), filled);
      filled += at - copied;
      copied = at + size;
      if (size >= 3 && !splitPolygon(positions, corners, at, size, write, budget)) {
        throw new MeshError(
          'too-large',
          size > MAX_CLIPPED_CORNERS
            ? `A face has ${size} corners and is not convex; at most ${MAX_CLIPPED_CORNERS} can be split here. Export the scan as triangles.`
            : `Face ${i} of those with more corners than three has ${size} and winds so much that splitting it takes too long here. Export the scan as triangles.`,
        );
      }
    }
    indices.set(corners.subarray(copied, cornerCount), filled);
    return indices;
  }
}
