import type { RoughRun } from '../core/computePlan.ts';
import type { StepCache } from '../core/StepCache.ts';
import { drawGround, drawRegions } from './drawGround.ts';
import type { PlanGeometry } from './protocol.ts';
import { copyPicture } from './shadePicture.ts';

/** What the page shows of an estimate: the rubber, its pieces and the lines between them. */
export async function drawRough(
  run: RoughRun,
  isRubberNew: boolean,
  cache: StepCache,
): Promise<PlanGeometry> {
  const regions = await drawRegions(run, cache);
  const filler = run.grounds.filler?.blockOut.filler ?? null;
  return {
    ...drawGround(run, isRubberNew, filler),
    pieces: run.parting.pieces.map(({ id, pull }, region) => ({
      id,
      pull,
      rubber: copyPicture(regions[region].look),
      shell: null,
      undercut: null,
      touch: null,
    })),
  };
}
