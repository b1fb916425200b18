import type { Checkpoint } from '../../checkpoint.ts';
import { describeProposal } from './describeProposal.ts';
import { layAgain } from './layProposal.ts';
import type { Proposal } from './makeProposal.ts';
import { measureClosely } from './measureClosely.ts';
import { refinePulls } from './refinePulls.ts';
import type { SuggestGround } from './SuggestGround.ts';
import { scoreProposal } from './scoreProposal.ts';

/**
 * A proposal with each pull fitted to its piece, measured as a plan's own undercuts are. When the fitted pulls do no better
 * than the grid's, which are judged by raster, the grid's stay.
 */
export async function fitProposal(
  ground: SuggestGround,
  proposal: Proposal,
  cp: Checkpoint,
): Promise<Proposal> {
  const before = await judgeAgain(ground, proposal, cp.within(0, 0.4, 'measuring the undercuts'));
  const pulls = await refinePulls(
    ground,
    proposal.labels,
    proposal.pulls,
    cp.within(0.4, 0.6, 'fitting the pulls'),
  );
  if (pulls.every((pull, k) => pull.every((x, i) => x === proposal.pulls[k][i]))) return before;
  const planPieces = proposal.laid.planPieces.map((piece, k) => ({ ...piece, pull: pulls[k], name: '' }));
  const laid = await layAgain(
    ground.surface,
    { lines: proposal.laid.lines, planPieces },
    proposal.labels,
    ground.graph.areas,
    undefined,
    ground.plan.parting,
    cp.within(0.6, 0.65, 'laying the lines'),
  );
  const after = await judgeAgain(
    ground,
    { ...proposal, laid, pulls },
    cp.within(0.65, 1, 'measuring the undercuts'),
  );
  return after.score < before.score ? after : before;
}

async function judgeAgain(ground: SuggestGround, proposal: Proposal, cp: Checkpoint): Promise<Proposal> {
  const { surface, plan, barred } = ground;
  const { laid } = proposal;
  const figures = await measureClosely(surface, laid, plan, cp);
  return {
    ...proposal,
    figures,
    score: scoreProposal(laid, figures, plan.parting.rubberGiveMm, surface.diagonalMm, barred),
    told: describeProposal(laid, figures, plan),
  };
}
