import type { ScanReport } from '../PlanResult.ts';
import type { TriMesh } from './TriMesh.ts';

/** The scan put right: welded, repaired, oriented outward, upright, in millimetres, standing on its board at z = 0. */
export interface PreparedScan {
  /**
   * Board frame, z up, clipped exactly at z = 0 (nothing below), counter-clockwise seen from outside.
   * Open on the board (its rim lies in z = 0), or closed by a base cap, or (board 'none') closed all round.
   */
  readonly mesh: TriMesh;
  /** triCount x 3 half-edges: opposite half-edge 3 * tri + side, or -1 on a border. Half-edge 3t+k runs from corner k to corner (k+1)%3. */
  readonly twins: Int32Array;
  /** triCount; 1: belongs to S, the rubber's outward surface; 0: the face that stands on the board. */
  readonly isSurface: Uint8Array;
  /** True when the solid is bounded below by the board (the usual case); false for board 'none'. */
  readonly standsOnBoard: boolean;
  readonly heightMm: number;
  /** Volume enclosed with the board, mm3; null when holes that were not filled leave it open, or parts inside it were left in. */
  readonly volumeMm3: number | null;
  /** Area that hole filling added to S, mm2: enters the error bound. */
  readonly filledAreaMm2: number;
  /** Area of lids over holes that were left open, and of parts inside the body that were left in, mm2: enters the error bound. */
  readonly openAreaMm2: number;
  /** Noise of the scanner or as fine a texture, standard deviation from point to point, mm; 0 where there is none: enters the error bound. */
  readonly roughMm: number;
  readonly report: ScanReport;
  /** Where something was found or mended, to be shown on the mesh. Board frame. */
  readonly marks: readonly ScanMark[];
  /** Row-major 3x4: file coordinates -> board frame mm. */
  readonly fileToBoard: readonly number[];
}

/** A place where something was found or mended: a loop, a patch of faces, edges, or loose points. */
export interface ScanMark {
  /** The same closed set as the notes' codes. */
  readonly code: string;
  /** n x 3, mm: polyline of a loop; otherwise loose points, for a patch one of its own faces' middle. */
  readonly points: Float64Array;
  readonly isLoop: boolean;
  /** Faces of the patch as loose triangles, n x 9, mm; evenly picked ones when `faces` is more than there are. */
  readonly tris?: Float64Array;
  /** Edges, n x 6, mm: the border of the patch, or the edges that were found. */
  readonly edges?: Float64Array;
  /** How many faces the patch has. */
  readonly faces?: number;
}
