import type { Checkpoint } from '../checkpoint.ts';
import type { Vec3 } from '../mesh/TriMesh.ts';
import type { PartingLinePlan, PartingPlan } from '../plan/PlanDocument.ts';
import { chainSegments, type LineChain } from './chainSegments.ts';
import { cutAlongLines } from './cutAlongLines.ts';
import { firstLines } from './firstLines.ts';
import { nameRegions } from './nameRegions.ts';
import type { SurfaceContext } from './SurfaceContext.ts';
import type { CutSurface, SurfacePath } from './types.ts';

/** Everything about where the shell parts; by region, in the order of the pieces. */
export interface PartingStep {
  /** The lines as used: the user's, or the tool's first ones. */
  readonly lines: readonly PartingLinePlan[];
  readonly paths: readonly SurfacePath[];
  readonly cut: CutSurface;
  readonly chains: readonly LineChain[];
  readonly pieces: readonly PieceName[];
}

export interface PieceName {
  readonly id: string;
  readonly name: string;
  readonly pull: Vec3;
}

/** Lines, exact cut, pieces with names and pulls. Throws PlanError 'bad-line' -> a line cannot be laid or parts nothing. */
export async function planParting(
  surface: SurfaceContext,
  plan: PartingPlan,
  cp: Checkpoint,
): Promise<PartingStep> {
  const first =
    plan.lines === 'auto'
      ? await firstLines(
          surface,
          plan.pullAzimuthsDeg,
          plan.pieceCount,
          cp.within(0, 0.6, 'finding a first line'),
        )
      : null;
  const lines = first?.lines ?? (plan.lines as readonly PartingLinePlan[]);
  await cp.pause(0.6);
  const { paths, cut } =
    first?.laid ?? (await cutAlongLines(surface, lines, cp.within(0.6, 0.9, 'laying the parting line')));
  await cp.pause(0.9);
  return {
    lines,
    paths,
    cut,
    chains: chainSegments(cut.segments),
    pieces: nameRegions(surface, cut, plan, first?.pulls ?? null),
  };
}
