import type { TablePair } from './assembleResult.ts';
import type { Checkpoint } from './checkpoint.ts';
import { buildBandField } from './field/buildBandField.ts';
import type { CoatTable } from './field/CoatTable.ts';
import { affordCellMm } from './field/chooseCell.ts';
import type { Ground } from './layGround.ts';
import { buildWall, type PartingWall } from './parting/buildWall.ts';
import { tabulateFlange } from './parting/tabulateFlange.ts';
import { ballsOf } from './plan/ballsOf.ts';
import type { FlangePlan, MarkedArea } from './plan/PlanDocument.ts';
import type { StepCache } from './StepCache.ts';

/** Cells of the flange's grid: this many to its thickness, and coarser once more for the bound. */
const FLANGE_CELLS = 2.5;
const FLANGE_COARSER = 1.5;
/** Normals along the line are averaged over this much of the flange's thickness to either side. */
const FLANGE_WINDOW = 1;

/** The parting wall and the tables of the flange along it, remembered. */
export async function rememberFlange(
  cache: StepCache,
  ground: Ground,
  flange: FlangePlan,
  innerMm: number,
  keepClear: readonly MarkedArea[],
  isPreliminary: boolean,
  cp: Checkpoint,
): Promise<{ wall: PartingWall; tables: TablePair & { readonly cellMm: number } }> {
  const { scan, source, parting, scanKey, partingKey } = ground;
  const { widthMm, thicknessMm } = flange;
  const heightMm = innerMm + widthMm;
  const cellMm = affordCellMm(thicknessMm / FLANGE_CELLS, ground.areaMm2, heightMm);
  const key = JSON.stringify([partingKey, widthMm, thicknessMm, innerMm]);
  const wall = await cache.remember('wall', key, () =>
    buildWall(
      scan.mesh,
      parting.cut.segments,
      parting.chains,
      scan.standsOnBoard,
      heightMm + cellMm,
      cellMm,
      FLANGE_WINDOW * thicknessMm,
    ),
  );
  const tablesAt = (rung: number, phase: Checkpoint): Promise<CoatTable[]> =>
    cache.remember(`flange ${rung}`, key + JSON.stringify(keepClear), async () => {
      const far = await cache.remember(`far field ${rung}`, `${scanKey} ${cellMm} ${heightMm}`, () =>
        buildBandField(
          source,
          cellMm * FLANGE_COARSER ** rung,
          heightMm,
          scan.volumeMm3 !== null,
          phase.within(0, 0.5, 'measuring distances'),
        ),
      );
      return tabulateFlange(
        source,
        far,
        wall,
        parting.cut.regionCount,
        thicknessMm,
        heightMm,
        ballsOf(keepClear),
        phase.within(0.5, 1, 'measuring the flange'),
      );
    });
  // The rough answer is one rung coarser throughout.
  const rung = isPreliminary ? 1 : 0;
  const coarse = await tablesAt(rung + 1, cp.within(0, 0.3, 'measuring the flange'));
  const fine = await tablesAt(rung, cp.within(0.3, 1, 'measuring the flange'));
  return {
    wall,
    tables: { fine, coarse, coarser: FLANGE_COARSER, cellMm: cellMm * FLANGE_COARSER ** rung },
  };
}
