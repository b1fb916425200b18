import { innerDistanceMm } from '../assembleResult.ts';
import type { Checkpoint } from '../checkpoint.ts';
import type { PlanRun } from '../computePlan.ts';
import type { PreparedScan } from '../mesh/PreparedScan.ts';
import type { PlanDocument } from '../plan/PlanDocument.ts';
import { totalThicknessMm } from '../plan/totalThicknessMm.ts';
import type { StepCache } from '../StepCache.ts';
import { levelFinish, trowelSpacingMm } from './levelFinish.ts';
import { measureCurvature, type VertexCurvature } from './measureCurvature.ts';
import { outsideAtVerts, predictAtVerts } from './predictAtVerts.ts';
import { buildTrowelGround } from './TrowelGround.ts';

/** Scales at which curvature is measured, mm: the smallest that is not below what is laid. */
const CURVATURE_SCALES_MM = [2, 3, 5, 7, 10, 14, 20, 30, 45, 70, 100];

/** Predicted thickness of the first coats at each vertex of the scan. */
export interface PredictedThickness {
  /** By vertex, mm; NaN off S, Infinity where a hollow fills. */
  readonly thicknessMm: Float64Array;
  readonly curvature: VertexCurvature;
  /** What was laid, mm: volume per area of the rubber's outside. */
  readonly laidMm: number;
  /** What levelling adds by vertex, mm, in `thicknessMm` already; null: not levelled. */
  readonly fillMm: Float64Array | null;
}

/**
 * Predicted thickness from the rubber to the outside of coat `upToCoat` (0: the first) at each vertex of `run.scan.mesh`, mm:
 * spread evenly by weight (`predictThickness`), and with all coats on, the last of them a finish, levelled by the plan's trowel
 * (`levelFinish`). NaN off S, Infinity where a hollow fills. Remembered; the first time O(vertices), levelled some tenths of a second.
 */
export async function thicknessAtVerts(
  { plan, scan, scanKey }: Pick<PlanRun, 'plan' | 'scan' | 'scanKey'>,
  upToCoat: number,
  cache: StepCache,
  cp: Checkpoint,
): Promise<Float64Array> {
  return (await rememberThickness(plan, scan, scanKey, upToCoat, cache, cp)).thicknessMm;
}

/** The radius of the trowel that levels the last coat, mm; null: there is none, or no finish coat to be levelled. */
export function levelledByMm({ coats, trowelRadiusMm }: PlanDocument): number | null {
  return coats.at(-1)?.kind === 'finish' ? trowelRadiusMm : null;
}

/** True when the thickness of all coats comes at once: known already, or not levelled. */
export function isThicknessNear(plan: PlanDocument, scanKey: string, cache: StepCache): boolean {
  return levelledByMm(plan) === null || cache.has('levelled', levelledKey(plan, scanKey));
}

/** As `thicknessAtVerts`, with what it was worked out from. */
export async function rememberThickness(
  plan: PlanDocument,
  scan: PreparedScan,
  scanKey: string,
  upToCoat: number,
  cache: StepCache,
  cp: Checkpoint,
): Promise<PredictedThickness> {
  const innerMm = innerDistanceMm(plan);
  const laidMm = totalThicknessMm(plan.coats.slice(0, upToCoat + 1));
  // What is asked of the coats below must not push out what every answer needs.
  const isWhole = upToCoat >= plan.coats.length - 1;
  const which = isWhole ? '' : ' below';
  const scaleMm =
    CURVATURE_SCALES_MM.find((s) => s >= laidMm) ?? CURVATURE_SCALES_MM[CURVATURE_SCALES_MM.length - 1];
  const curvature = await cache.remember(`curvature${which}`, `${scanKey} ${scaleMm}`, () =>
    measureCurvature(scan.mesh, scan.twins, scan.isSurface, scaleMm),
  );
  const brushedMm = await cache.remember(`thickness${which}`, `${scanKey} ${laidMm} ${innerMm}`, () =>
    predictAtVerts(curvature, laidMm, innerMm),
  );
  const radiusMm = levelledByMm(plan);
  const spacingMm = radiusMm === null ? null : trowelSpacingMm(radiusMm, sumOf(curvature.areaMm2));
  if (!isWhole || radiusMm === null || spacingMm === null) {
    return { thicknessMm: brushedMm, curvature, laidMm, fillMm: null };
  }
  return cache.remember('levelled', levelledKey(plan, scanKey), async () => {
    const ground = await cache.remember('trowel ground', `${scanKey} ${spacingMm}`, () =>
      buildTrowelGround(scan.mesh, scan.isSurface, spacingMm),
    );
    const fillMm = await levelFinish(
      ground,
      outsideAtVerts(brushedMm, curvature, laidMm, innerMm),
      radiusMm,
      cp,
    );
    const thicknessMm = brushedMm.map((thickness, v) => thickness + fillMm[v]);
    return { thicknessMm, curvature, laidMm, fillMm };
  });
}

function levelledKey(plan: PlanDocument, scanKey: string): string {
  return `${scanKey} ${totalThicknessMm(plan.coats)} ${innerDistanceMm(plan)} ${plan.trowelRadiusMm}`;
}

function sumOf(values: Float64Array): number {
  let sum = 0;
  for (let n = 0; n < values.length; n++) sum += values[n];
  return sum;
}
