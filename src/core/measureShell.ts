import type { AssembleInput, TablePair } from './assembleResult.ts';
import type { Checkpoint } from './checkpoint.ts';
import { growthAt } from './field/growthAt.ts';
import type { Ground } from './layGround.ts';
import type { PartingWall } from './parting/buildWall.ts';
import { regionAreas } from './parting/regionAreas.ts';
import { regionOfVerts } from './parting/regionOfVerts.ts';
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

/** How much of the shell is measured: the amounts alone; with what takes as long again; all, a finish to be levelled too. */
export type Depth = 'amounts' | 'most' | 'all';

/**
 * Areas, bends and flange of a shell whose coats are tabulated; thin spots and the casting's pressure where `depth` asks for them
 * or they are known.
 */
export async function measureShell(
  plan: PlanDocument,
  ground: Ground,
  shell: TablePair,
  innerMm: number,
  isPreliminary: boolean,
  depth: Depth,
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
  const isPressed = depth !== 'amounts' || isPressureKnown(plan, ground, cache);
  const { thin, probes } =
    depth === 'all' || (isPressed && isThicknessNear(plan, scanKey, cache))
      ? await times.take('thin', () => thinSpots(cache, plan, ground, innerMm, areasMm2, cp))
      : NO_THIN;
  const pressure = isPressed
    ? await cache.remember('pressure', pressureKey(plan, ground), () =>
        pressMould(plan.casting, {
          ...parting.cut,
          triRegion: parting.cut.cutTriRegion,
          pieces: parting.pieces,
        }),
      )
    : null;
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

/** Whether this parting's pressure was worked out already. */
export function isPressureKnown(plan: PlanDocument, ground: Ground, cache: StepCache): boolean {
  return cache.has('pressure', pressureKey(plan, ground));
}

function pressureKey({ casting }: PlanDocument, { partingKey }: Ground): string {
  return partingKey + JSON.stringify(casting);
}

const NO_THIN: Pick<ShellStep, 'thin' | 'probes'> = { thin: null, probes: [] };

async function thinSpots(
  cache: StepCache,
  plan: PlanDocument,
  { scan, surface, parting, scanKey, partingKey }: Ground,
  innerMm: number,
  areasMm2: ArrayLike<number>,
  cp: Checkpoint,
): Promise<Pick<ShellStep, 'thin' | 'probes'>> {
  const predicted = await rememberThickness(plan, scan, scanKey, plan.coats.length - 1, cache, cp);
  const { curvature, laidMm } = predicted;
  const { mesh } = scan;
  const vertRegion = await cache.remember('regions of vertices', partingKey, () =>
    regionOfVerts(surface, parting.cut),
  );
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
