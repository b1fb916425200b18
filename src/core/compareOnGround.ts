import type { Checkpoint } from './checkpoint.ts';
import type { PlanRun } from './computePlan.ts';
import type { FieldLadder } from './FieldLadder.ts';
import { buildBandField } from './field/buildBandField.ts';
import type { CoatTable } from './field/CoatTable.ts';
import { sumRegions } from './field/sumRegions.ts';
import { tabulateBricks } from './field/tabulateBricks.ts';
import { groundOfWork } from './groundOfWork.ts';
import type { Ground } from './layGround.ts';
import { BUILT_IN_MATERIALS } from './material/builtInMaterials.ts';
import type { MaterialSystem } from './material/MaterialSystem.ts';
import type { SystemComparison } from './PlanResult.ts';
import { ballsOf } from './plan/ballsOf.ts';
import type { PlanDocument } from './plan/PlanDocument.ts';
import type { StepCache } from './StepCache.ts';
import { compareSystems } from './work/compareSystems.ts';
import { planWork } from './work/planWork.ts';

/** Knots of the tables to a cell, as the coats' own have them; at least so many that a cubic can be read. */
const KNOTS_A_CELL = 2;
const LEAST_KNOTS = 4;
/** The table reaches a little beyond the thickest shell, so that its last knots are not its end. */
const ROOM = 1.1;

/**
 * This very shell in other systems, each at the thickness that is usual in it. The chosen system's row is of the plan's
 * own tables; thicker shells are measured on a field of four times its cell (19 mm: 0.01 % off on the demo, 0.13 % on the goblet).
 * The field is remembered: a changed price or pace costs no new one.
 */
export async function compareOnGround(
  { plan, tables, grounds, result }: PlanRun,
  ladder: FieldLadder,
  cache: StepCache,
  cp: Checkpoint,
): Promise<SystemComparison[]> {
  const candidates = candidatesOf(plan);
  const outerMm = result.shell.thicknessMm;
  const thickestMm = Math.max(outerMm, ...candidates.map((system) => system.shellMm?.usual ?? 0));
  const thick = await thickTables(plan, grounds.filled, ladder, tables.innerMm + thickestMm, cache, cp);
  const fillerMm3 = result.filler?.volumeMm3 ?? 0;
  const fasteners = result.casting?.fasteners ?? null;
  const groundFor = (thicknessMm: number) =>
    groundOfWork(plan, thicknessMm === outerMm ? tables : { ...tables, shell: thick }, fillerMm3, fasteners);
  return compareSystems(plan, candidates, groundFor, planWork);
}

/** The chosen system, the plan's others and the built-in ones that shells are made of; one of an id. */
function candidatesOf(plan: PlanDocument): MaterialSystem[] {
  const all = [plan.material, ...plan.otherMaterials, ...BUILT_IN_MATERIALS];
  const shells = all.filter((system) => system.uses.includes('shell'));
  return shells.filter((system, n) => shells.findIndex((other) => other.id === system.id) === n);
}

async function thickTables(
  plan: PlanDocument,
  ground: Ground,
  ladder: FieldLadder,
  reachMm: number,
  cache: StepCache,
  cp: Checkpoint,
): Promise<CoatTable[]> {
  const cellMm = ladder.cellMm('rough');
  const bandMm = reachMm * ROOM;
  const key = JSON.stringify([ladder.regionsKey('rough'), bandMm]);
  return cache.remember('thick regions', key, async () => {
    const { grid, tables } = await cache.remember(
      'thick field',
      `${ground.scanKey} ${cellMm} ${bandMm}`,
      async () => {
        const isClosed = ground.scan.volumeMm3 !== null;
        const measuring = cp.within(0, 0.5, 'measuring thicker shells');
        const grid = await buildBandField(ground.source, cellMm, bandMm, isClosed, measuring);
        const steps = Math.max(LEAST_KNOTS, Math.ceil((bandMm / cellMm) * KNOTS_A_CELL));
        const integrating = cp.within(0.5, 0.8, 'measuring thicker shells');
        const tables = await tabulateBricks(grid, ground.source, bandMm / steps, steps + 1, integrating);
        return { grid, tables };
      },
    );
    return sumRegions(
      grid,
      ground.source,
      tables,
      ground.parting.cut,
      ballsOf(plan.scan.keepClear),
      cp.within(0.8, 1, 'measuring thicker shells'),
    );
  });
}
