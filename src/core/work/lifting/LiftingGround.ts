import type { Vec3 } from '../../mesh/TriMesh.ts';

/** What is lifted: masses in g, places in mm, board frame. */
export interface LiftingGround {
  readonly pieces: readonly LiftedPiece[];
  /** All of the rubber. */
  readonly rubberG: number;
  /** Its centre of mass; null: not known. */
  readonly rubberCentreMm: Vec3 | null;
  /** Null when it is not known: the scan does not close. */
  readonly castG: number | null;
  /** Null: not known, or not filled to the top. */
  readonly castCentreMm: Vec3 | null;
}

export interface LiftedPiece {
  readonly id: string;
  readonly name: string;
  /** As laid up, flange included. */
  readonly wetG: number;
  /** Once what is not bound has dried out. */
  readonly dryG: number;
  readonly wetCentreMm: Vec3;
  readonly dryCentreMm: Vec3;
  /** Box around the piece, as it stands in the mould. */
  readonly boxMm: { readonly min: Vec3; readonly max: Vec3 };
  /** The rubber that lies in this piece, should it come off with it. */
  readonly rubberShareG: number;
  /** Null: not known. */
  readonly rubberCentreMm: Vec3 | null;
}
