import type { AssembleInput, TablePair } from './assembleResult.ts';
import type { Checkpoint } from './checkpoint.ts';
import { type CoatTable, readTable, TABLE_WIDTH } from './field/CoatTable.ts';
import type { Ground } from './layGround.ts';
import type { PartingWall } from './parting/buildWall.ts';
import { regionAreas } from './parting/regionAreas.ts';
import type { PlanDocument } from './plan/PlanDocument.ts';
import { rememberFlange } from './rememberFlange.ts';
import type { StepCache } from './StepCache.ts';
import type { StepTimes } from './StepTimes.ts';
import { findThin, predictAtVerts } from './shell/findThin.ts';
import { bendsOfRegions, measureBends } from './shell/measureBends.ts';
import { measureCurvature } from './shell/measureCurvature.ts';

/** What the answer is put together from, beside the plan and the ground. */
export type ShellStep = Pick<AssembleInput, 'areasMm2' | 'bendsMm' | 'flange' | 'thin'> & {
  readonly wall: PartingWall | null;
};

/** Areas, bends, flange and thin spots of a shell whose coats are tabulated. */
export async function measureShell(
  plan: PlanDocument,
  ground: Ground,
  shell: TablePair,
  innerMm: number,
  outerMm: number,
  isPreliminary: boolean,
  cache: StepCache,
  times: StepTimes,
  cp: Checkpoint,
): Promise<ShellStep> {
  const { scan, parting, scanKey, partingKey } = ground;
  const { keepClear } = plan.scan;
  const { flange } = plan.parting;
  const made = flange
    ? await times.take('pieces', () => rememberFlange(cache, ground, flange, innerMm, isPreliminary, cp))
    : null;
  const areasMm2 =
    innerMm === 0
      ? await cache.remember('areas', partingKey + JSON.stringify(keepClear), () =>
          regionAreas(parting.cut, keepClear),
        )
      : shell.fine.map((table) => growthAt(table, innerMm));
  const bends = await cache.remember('bends', scanKey, () => measureBends(scan.mesh, scan.twins));
  const bendsMm = await cache.remember('bends of regions', partingKey, () =>
    bendsOfRegions(bends, parting.cut),
  );
  const thin = await times.take('coats', () => thinSpots(cache, plan, ground, innerMm, outerMm - innerMm));
  return { areasMm2, bendsMm, flange: made?.tables ?? null, thin, wall: made?.wall ?? null };
}

/** Area of the level set at a distance, mm2: the growth of the volume there. */
function growthAt(table: CoatTable, distanceMm: number): number {
  const below = new Float64Array(TABLE_WIDTH);
  const above = new Float64Array(TABLE_WIDTH);
  // Below zero the table holds nothing: over thin rubber the span is shorter on that side.
  const fromMm = Math.max(0, distanceMm - table.knotMm);
  const toMm = distanceMm + (distanceMm - fromMm);
  readTable(table, fromMm, below);
  readTable(table, toMm, above);
  return (above[0] - below[0]) / (toMm - fromMm);
}

/** Scales at which curvature is measured, mm: the smallest that is not below the shell's thickness. */
const CURVATURE_SCALES_MM = [2, 3, 5, 7, 10, 14, 20, 30, 45, 70, 100];

async function thinSpots(
  cache: StepCache,
  plan: PlanDocument,
  { scan, parting, scanKey }: Ground,
  innerMm: number,
  laidMm: number,
): Promise<ReturnType<typeof findThin>> {
  const scaleMm =
    CURVATURE_SCALES_MM.find((s) => s >= laidMm) ?? CURVATURE_SCALES_MM[CURVATURE_SCALES_MM.length - 1];
  const curvature = await cache.remember('curvature', `${scanKey} ${scaleMm}`, () =>
    measureCurvature(scan.mesh, scan.twins, scan.isSurface, scaleMm),
  );
  const thicknessMm = await cache.remember('thickness', `${scanKey} ${laidMm} ${innerMm}`, () =>
    predictAtVerts(curvature, laidMm, innerMm),
  );
  return findThin(
    thicknessMm,
    curvature.areaMm2,
    parting.vertRegion,
    parting.cut.regionCount,
    plan.leastThicknessMm,
    laidMm,
  );
}
