import type { Vec3 } from '../../mesh/TriMesh.ts';
import type { PartingLineResult, RemovalResult } from '../../PlanResult.ts';
import type { PartingLinePlan, PiecePlan } from '../../plan/PlanDocument.ts';

/** A complete proposal: taking it puts `lines` and `pieces` into the plan. */
export interface Suggestion {
  readonly rank: number;
  /** Why it stands where it stands, one or two sentences. */
  readonly why: string;
  readonly lines: readonly PartingLinePlan[];
  readonly planPieces: readonly PiecePlan[];
  readonly pieces: readonly SuggestedPiece[];
  readonly partingLines: readonly PartingLineResult[];
  readonly lineMm: number;
  /** The longest run of flange on one piece. */
  readonly longestFlangeMm: number;
  readonly maxDepthMm: number;
  readonly undercutMm2: number;
  readonly fillerMm3: number;
  readonly fillerG: number;
  readonly removal: RemovalResult;
}

/** Areas, volumes and masses by the Steiner estimate: good to some percent. */
export interface SuggestedPiece {
  readonly id: string;
  readonly pull: Vec3;
  readonly areaMm2: number;
  readonly massG: number;
  readonly undercut: { readonly areaMm2: number; readonly maxDepthMm: number; readonly fillerMm3: number };
}
