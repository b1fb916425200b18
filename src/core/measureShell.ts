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
import { findThin } from './shell/findThin.ts';
import { bendsOfRegions, measureBends } from './shell/measureBends.ts';
import { rememberThickness } from './shell/thicknessOfCoats.ts';
import { pressMould } from './work/casting/pressMould.ts';

/** What the answer is put together from, beside the plan and the ground. */
export type ShellStep = Pick<
  AssembleInput,
  'areasMm2' | 'bendsMm' | 'flange' | 'thin' | 'probes' | 'pressure'
> & {
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
          regionAreas(parting.cut, ballsOf(keepClear)),
        )
      : shell.fine.map((table) => growthAt(table, innerMm));
  const bends = await cache.remember('bends', scanKey, () => measureBends(scan.mesh, scan.twins));
  const bendsMm = await cache.remember('bends of regions', partingKey, () =>
    bendsOfRegions(bends, parting.cut),
  );
  const { thin, probes } = await times.take('coats', () =>
    thinSpots(cache, plan, ground, innerMm, outerMm - innerMm, areasMm2, cp),
  );
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

async function thinSpots(
  cache: StepCache,
  plan: PlanDocument,
  { scan, parting, scanKey, partingKey }: Ground,
  innerMm: number,
  laidMm: number,
  areasMm2: ArrayLike<number>,
  cp: Checkpoint,
): Promise<Pick<ShellStep, 'thin' | 'probes'>> {
  const { thicknessMm, curvature } = await rememberThickness(
    plan,
    scan,
    scanKey,
    plan.coats.length - 1,
    cache,
    cp,
  );
  const thin = findThin(
    thicknessMm,
    curvature.areaMm2,
    parting.vertRegion,
    parting.cut.regionCount,
    plan.leastThicknessMm,
    laidMm,
  );
  const probes = await cache.remember('probes', `${partingKey} ${laidMm} ${innerMm}`, () =>
    chooseProbes(scan.mesh, thicknessMm, parting.vertRegion, areasMm2),
  );
  return { thin, probes };
}
