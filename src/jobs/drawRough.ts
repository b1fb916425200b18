import type { BareRun } from '../core/computePlan.ts';
import type { StepCache } from '../core/StepCache.ts';
import { drawGround, drawRegions } from './drawGround.ts';
import type { PlanGeometry } from './protocol.ts';
import { copyPicture } from './shadePicture.ts';

/** What the page shows before the shell is drawn: the rubber, its pieces and the lines between them; the rubber alone while there are none. */
export async function drawRough(
  run: BareRun & { readonly isUndivided?: boolean },
  isRubberNew: boolean,
  cache: StepCache,
): Promise<PlanGeometry> {
  const filler = run.grounds.filler?.blockOut.filler ?? null;
  const ground = drawGround(run, isRubberNew, filler);
  if (run.isUndivided) return { ...ground, pieces: [] };
  const regions = await drawRegions(run, cache);
  return {
    ...ground,
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
