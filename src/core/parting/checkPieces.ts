import { PlanError } from '../errors.ts';
import type { PartingLinePlan } from '../plan/PlanDocument.ts';
import { cutSurface } from './cutSurface.ts';
import { joinAlongSurface } from './joinAlongSurface.ts';
import { labelOfRegions } from './labelOfRegions.ts';
import type { SurfaceContext } from './SurfaceContext.ts';
import type { SurfaceDiffusion } from './SurfaceDiffusion.ts';
import type { CutSurface, SurfacePath } from './types.ts';

/** Lines laid on the surface, and what they make of it. */
export interface LaidLines {
  readonly paths: readonly SurfacePath[];
  readonly cut: CutSurface;
}

/** Lays the lines and cuts along them. Throws 'bad-line' unless that gives each label its own region with most of the label's area. */
export function checkPieces(
  surface: SurfaceContext,
  graph: SurfaceDiffusion,
  labels: Int32Array,
  lines: readonly PartingLinePlan[],
  pieceCount: number,
): LaidLines {
  const paths: SurfacePath[] = [];
  for (const line of lines) paths.push(joinAlongSurface(surface, line.points, line.closed, paths));
  const cut = cutSurface(surface, paths);
  if (labelOfRegions(cut, labels, graph.areas, pieceCount) !== null) return { paths, cut };
  throw new PlanError(
    'bad-line',
    `No first line was found that makes ${pieceCount} sound pieces for these pulls. Draw the lines by hand, or choose other pulls.`,
  );
}
