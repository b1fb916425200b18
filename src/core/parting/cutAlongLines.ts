import type { Checkpoint } from '../checkpoint.ts';
import type { PartingLinePlan } from '../plan/PlanDocument.ts';
import { cutSurface } from './cutSurface.ts';
import { joinAlongSurface } from './joinAlongSurface.ts';
import type { SurfaceContext } from './SurfaceContext.ts';
import type { CutSurface, SurfacePath } from './types.ts';

/** Lines laid on a surface, and the surface cut along them. */
export interface LaidLines {
  readonly paths: readonly SurfacePath[];
  readonly cut: CutSurface;
}

/**
 * Lays lines on a surface, each after those that its ends may stand on, and cuts it along them. Throws PlanError 'bad-line' -> a
 * line cannot be laid or parts nothing; the abort reason when cancelled. Cost: `joinAlongSurface` a line, then `cutSurface`.
 */
export async function cutAlongLines(
  surface: SurfaceContext,
  lines: readonly PartingLinePlan[],
  cp: Checkpoint,
): Promise<LaidLines> {
  const paths: SurfacePath[] = [];
  for (const line of lines) {
    paths.push(joinAlongSurface(surface, line.points, line.closed, paths));
    if (cp.due()) await cp.pause(paths.length / (lines.length + 1));
  }
  return { paths, cut: cutSurface(surface, paths) };
}
