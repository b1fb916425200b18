import type { PreparedScan } from '../../mesh/PreparedScan.ts';
import type { TriMesh, Vec3 } from '../../mesh/TriMesh.ts';
import type { PartingLinePlan, PiecePlan } from '../../plan/PlanDocument.ts';
import type { PartingStep } from '../planParting.ts';
import type { SurfaceContext } from '../SurfaceContext.ts';

/** The rubber with the filler that the user accepted, ready to be planned over. Board frame, mm. */
export interface BlockOut {
  /** The filler, closed, for looking: it reaches about a cell into the rubber, so that no gap shows. */
  readonly filler: TriMesh;
  /** By region: filler outside the rubber, mm3, and the bound on its error. */
  readonly volumeMm3: readonly number[];
  readonly volumeErrorMm3: readonly number[];
  /** Indices of the spots that were filled, rising. */
  readonly filled: readonly number[];
  /** Rubber and filler as one; S is the surface of the union. */
  readonly scan: PreparedScan;
  /** The same lines, carried out to the new surface. */
  readonly lines: readonly PartingLinePlan[];
  /** By region: the same names and pulls, anchored on the new surface. */
  readonly pieces: readonly PiecePlan[];
}

/** What of the undercut the filler is made from; everything by triangle of `parting.cut`. */
export interface FillableUndercut {
  /** 0 free, 1 facing away, 2 overshadowed by rubber; other kinds cannot be filled. */
  readonly triKind: Uint8Array;
  /** Index into `spots`, or -1. */
  readonly triSpot: Int32Array;
  readonly spots: readonly { readonly region: number; readonly maxDepthMm: number }[];
}

export interface BlockOutInput {
  readonly scan: PreparedScan;
  readonly surface: SurfaceContext;
  readonly parting: PartingStep;
  readonly undercut: FillableUndercut;
  /** 'all': every spot deeper than `giveMm`; else the spots that hold or lie nearest to these points. */
  readonly accepted: 'all' | readonly Vec3[];
  readonly giveMm: number;
  /** Edge of the cells that the filler is sampled with. */
  readonly cellMm: number;
}

/** Triangles of kinds that filler can free. */
export const isFillable = (kind: number): boolean => kind === 1 || kind === 2;
