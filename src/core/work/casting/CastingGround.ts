import type { Strength } from '../../material/MaterialSystem.ts';
import type { Vec3 } from '../../mesh/TriMesh.ts';

/** What the casting load is worked out from: board frame, board z = 0, z up, mm. */
export interface CastingGround {
  /** Rubber's outer face, wound outward: vertCount x 3. Of a bare pattern its own face, under the rubber. */
  readonly positions: Float64Array;
  /** triCount x 3. */
  readonly indices: Uint32Array;
  /** Number of each triangle's piece in `pieces`; -1: belongs to no piece (kept clear). */
  readonly triRegion: Int32Array;
  readonly pieces: readonly CastingPiece[];
  readonly lines: readonly CastingLine[];
  /** All coats together. */
  readonly thicknessMm: number;
  readonly flange: { readonly widthMm: number; readonly thicknessMm: number } | null;
  /** Inside of that face, over the board; null when the scan does not close. */
  readonly enclosedMm3: number | null;
  /** The rubber that lies within that face; 0 for a bare pattern. */
  readonly rubberMm3: number;
  readonly rubberG: number;
  /** Of the shell's system; null: nothing fit to compare with. */
  readonly strength: Strength | null;
}

export interface CastingPiece {
  readonly id: string;
  readonly name: string;
  /** Unit vector along which it comes off. */
  readonly pull: Vec3;
  readonly dryMassG: number;
}

/** A parting line on the rubber. Closed when its first point is its last. */
export interface CastingLine {
  readonly between: readonly [string, string];
  readonly points: readonly Vec3[];
  /** One of several runs of a line that what is kept clear breaks up. */
  readonly isRun?: boolean;
  /** Less than the whole line, by what is kept clear. */
  readonly isCut?: boolean;
}
