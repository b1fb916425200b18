import type { AssembleInput, TablePair } from './assembleResult.ts';
import type { Checkpoint } from './checkpoint.ts';
import { growthAt } from './field/growthAt.ts';
import type { Ground } from './layGround.ts';
import type { PartingWall } from './parting/buildWall.ts';
import { regionAreas } from './parting/regionAreas.ts';
import { ballsOf } from './plan/ballsOf.ts';
import type { PlanDocument } from './plan/PlanDocument.ts';
import { rememberFlange } from './rememberFlange.ts';
import type { StepCache } from './StepCache.ts';
import type { StepTimes } from './StepTimes.ts';
import { chooseProbes } from './shell/chooseProbes.ts';
import { findThinSpots } from './shell/findThinSpots.ts';
import { leaveOutClear } from './shell/leaveOutClear.ts';
import { bendsOfRegions, measureBends } from './shell/measureBends.ts';
import { measureFill } from './shell/measureFill.ts';
import { isThicknessNear, levelledByMm, rememberThickness } from './shell/thicknessOfCoats.ts';
import { pressMould } from './work/casting/pressMould.ts';

/** What the answer is put together from, beside the plan and the ground. */
export type ShellStep = Pick<
  AssembleInput,
  'areasMm2' | 'bendsMm' | 'flange' | 'thin' | 'probes' | 'pressure'
> & {
  readonly wall: PartingWall | null;
};

/**
 * Areas, bends, flange and thin spots of a shell whose coats are tabulated. With `isHasty` thin spots that take longer than the rest
 * (a finish to be levelled) are left out.
 */
export async function measureShell(
  plan: PlanDocument,
  ground: Ground,
  shell: TablePair,
  innerMm: number,
  isPreliminary: boolean,
  isHasty: boolean,
  cache: StepCache,
  times: StepTimes,
  cp: Checkpoint,
): Promise<ShellStep> {
  const { scan, parting, scanKey, partingKey } = ground;
  const { keepClear } = plan.scan;
  const { flange } = plan.parting;
  const made = flange
    ? await times.take('pieces', () =>
        rememberFlange(cache, ground, flange, innerMm, keepClear, isPreliminary, cp),
      )
    : null;
  const areasMm2 =
    innerMm === 0
      ? await cache.remember('areas', partingKey + JSON.stringify(keepClear), () =>
          regionAreas(parting.cut, ballsOf(keepClear)),
        )
      : shell.fine.map((table) => growthAt(table, innerMm));
  const bends = await cache.remember('bends', scanKey, () => measureBends(scan.mesh, scan.twins));
  const bendsMm = await cache.remember('bends of regions', partingKey, () =>
    bendsOfRegions(bends, parting.cut),
  );
  const { thin, probes } =
    isHasty && !isThicknessNear(plan, scanKey, cache)
      ? NO_THIN
      : await times.take('thin', () => thinSpots(cache, plan, ground, innerMm, areasMm2, cp));
  const pressure = await cache.remember('pressure', partingKey + JSON.stringify(plan.casting), () =>
    pressMould(plan.casting, { ...parting.cut, triRegion: parting.cut.cutTriRegion, pieces: parting.pieces }),
  );
  return {
    areasMm2,
    bendsMm,
    flange: made?.tables ?? null,
    thin,
    probes,
    pressure,
    wall: made?.wall ?? null,
  };
}

const NO_THIN: Pick<ShellStep, 'thin' | 'probes'> = { thin: null, probes: [] };

async function thinSpots(
  cache: StepCache,
  plan: PlanDocument,
  { scan, parting, scanKey, partingKey }: Ground,
  innerMm: number,
  areasMm2: ArrayLike<number>,
  cp: Checkpoint,
): Promise<Pick<ShellStep, 'thin' | 'probes'>> {
  const predicted = await rememberThickness(plan, scan, scanKey, plan.coats.length - 1, cache, cp);
  const { curvature, laidMm } = predicted;
  const { mesh } = scan;
  const { vertRegion } = parting;
  const { regionCount } = parting.cut;
  const laidKey = `${scanKey} ${laidMm} ${innerMm} ${levelledByMm(plan)} ${JSON.stringify(plan.scan.keepClear)}`;
  const thicknessMm = await cache.remember('thickness laid', laidKey, () =>
    leaveOutClear(mesh, predicted.thicknessMm, ballsOf(plan.scan.keepClear)),
  );
  const ground = { mesh, thicknessMm, curvature, innerMm, vertRegion, regionCount };
  const reports = findThinSpots(ground, plan.leastThicknessMm, laidMm);
  const { fillMm } = predicted;
  const filledMm3 =
    fillMm === null
      ? null
      : await cache.remember('levelling', `${partingKey} ${laidKey}`, () => measureFill(ground, fillMm));
  const probes = await cache.remember('probes', `${partingKey} ${laidKey}`, () =>
    chooseProbes(mesh, thicknessMm, vertRegion, areasMm2),
  );
  return { thin: { reports, filledMm3 }, probes };
}
