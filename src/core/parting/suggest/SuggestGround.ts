import type { Checkpoint } from '../../checkpoint.ts';
import type { Vec3 } from '../../mesh/TriMesh.ts';
import { type AreaBall, ballsOf } from '../../plan/ballsOf.ts';
import type { PlanDocument } from '../../plan/PlanDocument.ts';
import { directionGrid } from '../pulls/directionGrid.ts';
import { simplifySurface } from '../pulls/simplifySurface.ts';
import { type FaceSweep, sweepFaces } from '../pulls/sweepFaces.ts';
import { SurfaceContext } from '../SurfaceContext.ts';
import { SurfaceDiffusion } from '../SurfaceDiffusion.ts';
import { type PullSet, screenPairs } from './screenPullSets.ts';
import { tabulateCosts } from './tabulateCosts.ts';
import { type BorderEdges, weighBorders } from './weighBorders.ts';

/** Angle between neighbouring directions tried: about 130 of them over the half sphere. */
const STEP_DEG = 13;
/** What a mm of line costs, as a share of the diagonal: folds smaller than that do not bend a line. A choice. */
const LINE_SHARE = 0.012;
/** Room left round areas without lines, as shares of the diagonal: a laid line leaves its smooth curve by about the first. */
const MARGIN_SHARES = [0.02, 0.05, 0.1];

/** What all proposals for one scan are made from: its surface made simple, and what each direction costs there. */
export interface SuggestGround {
  readonly plan: PlanDocument;
  readonly surface: SurfaceContext;
  readonly graph: SurfaceDiffusion;
  /** By vertex of `surface` the vertex of the full surface that it is. */
  readonly sourceVert: Int32Array;
  /** n x 3 unit vectors. */
  readonly directions: Float32Array;
  readonly sweep: FaceSweep;
  /** Directions x vertices of the graph. */
  readonly costs: Float32Array;
  /** Every pair of directions far enough apart, with what it costs; worked out on the first question. */
  readonly pairs: () => readonly PullSet[];
  /** Areas that lines keep out of: marked so, or not covered by the shell at all. */
  readonly barred: readonly AreaBall[];
  /** What a mm of line costs, mm2. */
  readonly lineMm: number;
  /** For wider and wider margins round those areas; one alone when there are none. */
  readonly edges: readonly BorderEdges[];
}

/** Simplifies the surface and sweeps it along every direction. Cancels at its checkpoint. Cost: 1 to 2 s for 1 M triangles. */
export async function prepareGround(
  full: SurfaceContext,
  plan: PlanDocument,
  cp: Checkpoint,
): Promise<SuggestGround> {
  const simplifying = cp.within(0, 0.4, 'simplifying the surface');
  await simplifying.pause(0);
  const simple = await simplifySurface(full);
  await simplifying.pause(1);
  const surface = new SurfaceContext(simple.scan);
  const graph = new SurfaceDiffusion(surface);
  const directions = directionGrid(surface.standsOnBoard, STEP_DEG);
  const sweep = await sweepFaces(
    surface,
    directions,
    cp.within(0.4, 0.95, 'looking along every direction'),
    surface.standsOnBoard,
  );
  const costs = tabulateCosts(surface, directions, sweep, plan.parting.rubberGiveMm, graph.count);
  let known: PullSet[] | null = null;
  const pairs = (): PullSet[] => {
    known ??= screenPairs(costs, directions);
    return known;
  };
  const barred = ballsOf([...plan.parting.notHere, ...plan.scan.keepClear]);
  const margins = barred.length === 0 ? [0] : MARGIN_SHARES;
  const edges = margins.map((share) =>
    weighBorders(graph, barred, share * surface.diagonalMm, surface.diagonalMm),
  );
  await cp.pause(1);
  return {
    plan,
    surface,
    graph,
    sourceVert: simple.sourceVert,
    directions,
    sweep,
    costs,
    pairs,
    barred,
    lineMm: LINE_SHARE * surface.diagonalMm,
    edges,
  };
}

/** A direction of the grid, as three numbers. */
export function directionAt(directions: Float32Array, index: number): Vec3 {
  const x = directions[3 * index];
  const y = directions[3 * index + 1];
  const z = directions[3 * index + 2];
  // The grid is in single precision.
  const length = Math.hypot(x, y, z);
  return [x / length, y / length, z / length];
}
