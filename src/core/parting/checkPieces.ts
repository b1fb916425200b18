import { PlanError } from '../errors.ts';
import type { PartingLinePlan } from '../plan/PlanDocument.ts';
import { cutSurface } from './cutSurface.ts';
import { joinAlongSurface } from './joinAlongSurface.ts';
import { labelOfRegions } from './labelOfRegions.ts';
import type { SurfaceContext } from './SurfaceContext.ts';
import type { SurfaceDiffusion } from './SurfaceDiffusion.ts';
import type { SurfacePath } from './types.ts';

/** Throws 'bad-line' unless the lines, laid and cut, give each label its own region with most of the label's area. */
export function checkPieces(
  surface: SurfaceContext,
  graph: SurfaceDiffusion,
  labels: Int32Array,
  lines: readonly PartingLinePlan[],
  pieceCount: number,
): void {
  const paths: SurfacePath[] = [];
  for (const line of lines) paths.push(joinAlongSurface(surface, line.points, line.closed, paths));
  if (labelOfRegions(cutSurface(surface, paths), labels, graph.areas, pieceCount) !== null) return;
  throw new PlanError(
    'bad-line',
    `No first line was found that makes ${pieceCount} sound pieces for these pulls. Draw the lines by hand, or choose other pulls.`,
  );
}
