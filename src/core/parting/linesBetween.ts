import type { PartingLinePlan } from '../plan/PlanDocument.ts';
import { joinAlongSurface } from './joinAlongSurface.ts';
import type { SurfaceContext } from './SurfaceContext.ts';
import type { SurfaceDiffusion } from './SurfaceDiffusion.ts';
import { thinToControls } from './thinToControls.ts';
import { traceLevelSet } from './traceLevelSet.ts';
import type { SurfacePath } from './types.ts';

/**
 * The lines where the labels meet: first round label 0, then round label 1 in what is left, and so on; as control points
 * that `joinAlongSurface` takes, each line after those that its ends may stand on.
 *
 * @param labels by vertex of the graph; below 0: not on S.
 * @param values by label and vertex how strongly the vertex belongs to the label; smooth, so that the line is.
 * @param leastMm shorter lines are left out.
 * @throws PlanError 'bad-line': a line crosses itself or ends nowhere.
 * Cost: two short path searches a control point.
 */
export function linesBetween(
  surface: SurfaceContext,
  graph: SurfaceDiffusion,
  labels: Int32Array,
  values: readonly Float64Array[],
  pieceCount: number,
  leastMm: number,
): PartingLinePlan[] {
  const lines: PartingLinePlan[] = [];
  const paths: SurfacePath[] = [];
  const level = new Float64Array(graph.count);
  for (let k = 0; k + 1 < pieceCount; k++) {
    for (let v = 0; v < graph.count; v++) {
      let rest = -Infinity;
      for (let j = k + 1; j < pieceCount; j++) rest = Math.max(rest, values[j][v]);
      const lead = values[k][v] - rest;
      // An absorbed island has the label without the value: it is given the least that keeps the sign.
      const least = 1e-3;
      level[v] = labels[v] === k ? Math.max(least, lead) : Math.min(-least, lead);
    }
    for (const curve of traceLevelSet(graph, level, (v) => labels[v] >= k)) {
      if (curve.points.length < (curve.closed ? 9 : 6) || curve.lengthMm < leastMm) continue;
      const plan: PartingLinePlan = {
        id: `line-${lines.length + 1}`,
        points: thinToControls(surface, curve),
        closed: curve.closed,
      };
      paths.push(joinAlongSurface(surface, plan.points, plan.closed, paths));
      lines.push(plan);
    }
  }
  return lines;
}
