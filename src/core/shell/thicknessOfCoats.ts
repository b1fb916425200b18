import { innerDistanceMm } from '../assembleResult.ts';
import type { Checkpoint } from '../checkpoint.ts';
import type { PlanRun } from '../computePlan.ts';
import type { PreparedScan } from '../mesh/PreparedScan.ts';
import type { PlanDocument } from '../plan/PlanDocument.ts';
import { totalThicknessMm } from '../plan/totalThicknessMm.ts';
import type { StepCache } from '../StepCache.ts';
import { predictAtVerts } from './findThin.ts';
import { measureCurvature, type VertexCurvature } from './measureCurvature.ts';

/** Scales at which curvature is measured, mm: the smallest that is not below what is laid. */
const CURVATURE_SCALES_MM = [2, 3, 5, 7, 10, 14, 20, 30, 45, 70, 100];

/** Predicted thickness of the first coats at each vertex of the scan. */
export interface PredictedThickness {
  /** By vertex, mm; NaN off S, Infinity where a hollow fills. */
  readonly thicknessMm: Float64Array;
  readonly curvature: VertexCurvature;
  /** What was laid, mm: volume per area of the rubber's outside. */
  readonly laidMm: number;
}

/**
 * Predicted thickness from the rubber to the outside of coat `upToCoat` (0: the first) at each vertex of `run.scan.mesh`, mm:
 * spread evenly by weight. NaN off S, Infinity where a hollow fills.
 * Remembered; the first time O(vertices).
 */
export async function thicknessAtVerts(
  { plan, scan, scanKey }: Pick<PlanRun, 'plan' | 'scan' | 'scanKey'>,
  upToCoat: number,
  cache: StepCache,
  cp: Checkpoint,
): Promise<Float64Array> {
  return (await rememberThickness(plan, scan, scanKey, upToCoat, cache, cp)).thicknessMm;
}

/** As `thicknessAtVerts`, with what it was worked out from. */
export async function rememberThickness(
  plan: PlanDocument,
  scan: PreparedScan,
  scanKey: string,
  upToCoat: number,
  cache: StepCache,
  _cp: Checkpoint,
): Promise<PredictedThickness> {
  const innerMm = innerDistanceMm(plan);
  const laidMm = totalThicknessMm(plan.coats.slice(0, upToCoat + 1));
  // What is asked of the coats below must not push out what every answer needs.
  const which = upToCoat < plan.coats.length - 1 ? ' below' : '';
  const scaleMm =
    CURVATURE_SCALES_MM.find((s) => s >= laidMm) ?? CURVATURE_SCALES_MM[CURVATURE_SCALES_MM.length - 1];
  const curvature = await cache.remember(`curvature${which}`, `${scanKey} ${scaleMm}`, () =>
    measureCurvature(scan.mesh, scan.twins, scan.isSurface, scaleMm),
  );
  const thicknessMm = await cache.remember(`thickness${which}`, `${scanKey} ${laidMm} ${innerMm}`, () =>
    predictAtVerts(curvature, laidMm, innerMm),
  );
  return { thicknessMm, curvature, laidMm };
}
