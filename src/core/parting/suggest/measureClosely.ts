import { outerDistanceMm } from '../../assembleResult.ts';
import type { Checkpoint } from '../../checkpoint.ts';
import { writeTriNormal } from '../../mesh/writeNormal.ts';
import type { PlanDocument } from '../../plan/PlanDocument.ts';
import type { SurfaceContext } from '../SurfaceContext.ts';
import { measureUndercut } from '../undercut/measureUndercut.ts';
import type { LaidProposal } from './layProposal.ts';
import type { ProposalFigures } from './ProposalFigures.ts';

/**
 * Figures of a proposal by the same measuring as a plan's own undercuts, on the surface it was laid on; exact there but
 * for what a simplified surface leaves out. Cancels at its checkpoint. Cost: that of `measureUndercut`.
 */
export async function measureClosely(
  surface: SurfaceContext,
  { step }: LaidProposal,
  plan: PlanDocument,
  cp: Checkpoint,
): Promise<ProposalFigures> {
  const undercut = await measureUndercut(
    {
      surface,
      cut: step.cut,
      chains: step.chains,
      pulls: step.pieces.map((piece) => piece.pull),
      giveMm: plan.parting.rubberGiveMm,
      shellMm: outerDistanceMm(plan),
      standsOnBoard: surface.standsOnBoard,
    },
    cp,
  );
  const areasMm2 = new Float64Array(step.cut.regionCount);
  const { cutTriRegion } = step.cut;
  const normal = new Float64Array(3);
  for (let t = 0; t < cutTriRegion.length; t++) {
    areasMm2[cutTriRegion[t]] += writeTriNormal(step.cut, t, normal) / 2;
  }
  return {
    pieces: undercut.pieces.map((piece, region) => ({
      areaMm2: areasMm2[region],
      undercutMm2: piece.areaMm2,
      beyondGiveMm2: piece.beyondGive.areaMm2,
      maxDepthMm: piece.maxDepthMm,
      fillerMm3: piece.fillerMm3,
      beyondGiveFillerMm3: piece.beyondGive.fillerMm3,
      wallBlockedMm: piece.wall.blockedMm,
    })),
    order: undercut.removal.order,
    waits: undercut.removal.waits,
    locked: undercut.removal.locked,
  };
}
