import type { Checkpoint } from '../../checkpoint.ts';
import { describeProposal } from './describeProposal.ts';
import { layAgain } from './layProposal.ts';
import type { Proposal } from './makeProposal.ts';
import { measureClosely } from './measureClosely.ts';
import { refinePulls } from './refinePulls.ts';
import type { SuggestGround } from './SuggestGround.ts';
import { scoreProposal } from './scoreProposal.ts';

/** A proposal with each pull fitted to its piece, and measured closely. */
export async function fitProposal(
  ground: SuggestGround,
  proposal: Proposal,
  cp: Checkpoint,
): Promise<Proposal> {
  const { surface, plan, barred, graph } = ground;
  const { labels } = proposal;
  const pulls = await refinePulls(ground, labels, proposal.pulls, cp.within(0, 0.3, 'fitting the pulls'));
  const planPieces = proposal.laid.planPieces.map((piece, k) => ({ ...piece, pull: pulls[k], name: '' }));
  const laid = await layAgain(
    surface,
    { lines: proposal.laid.lines, planPieces },
    labels,
    graph.areas,
    undefined,
    plan.parting,
    cp.within(0.3, 0.4, 'laying the lines'),
  );
  const figures = await measureClosely(surface, laid, plan, cp.within(0.4, 1, 'measuring the undercuts'));
  return {
    laid,
    labels,
    pulls,
    figures,
    score: scoreProposal(laid, figures, plan.parting.rubberGiveMm, surface.diagonalMm, barred),
    told: describeProposal(surface, laid, figures, plan),
  };
}
