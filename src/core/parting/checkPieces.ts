import { PlanError } from '../errors.ts';
import { labelOfRegions } from './labelOfRegions.ts';
import type { SurfaceDiffusion } from './SurfaceDiffusion.ts';
import type { CutSurface } from './types.ts';

/** Throws 'bad-line' unless the cut gives each label its own region with most of the label's area. */
export function checkPieces(
  cut: CutSurface,
  graph: SurfaceDiffusion,
  labels: Int32Array,
  pieceCount: number,
): void {
  if (labelOfRegions(cut, labels, graph.areas, pieceCount) !== null) return;
  throw new PlanError(
    'bad-line',
    `No first line was found that makes ${pieceCount} sound pieces for these pulls. Draw the lines by hand, or choose other pulls.`,
  );
}
