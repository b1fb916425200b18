import type { Checkpoint } from '../../checkpoint.ts';
import { PlanError } from '../../errors.ts';
import type { PreparedScan } from '../../mesh/PreparedScan.ts';
import type { PlanDocument } from '../../plan/PlanDocument.ts';
import type { SurfaceContext } from '../SurfaceContext.ts';
import { describeProposal } from './describeProposal.ts';
import { explainRanks } from './explainRanks.ts';
import { fitProposal } from './fitProposal.ts';
import type { LabelledPieces } from './labelPieces.ts';
import { layAgain } from './layProposal.ts';
import { makeProposal, type Proposal, sharePieces } from './makeProposal.ts';
import { reorderFigures } from './ProposalFigures.ts';
import { leastHiddenPair, proposeSets } from './proposeSets.ts';
import { directionAt, prepareGround, type SuggestGround } from './SuggestGround.ts';
import type { Suggestion } from './Suggestion.ts';
import type { PullSet } from './screenPullSets.ts';

/** Numbers of pieces that are looked into when none is asked for. */
export const DEFAULT_PIECE_COUNTS: readonly number[] = [2, 3, 4];
/** Proposals handed out for each number of pieces: when one is asked for, and when several are. */
const KEPT_OF_ONE = 3;
const KEPT_OF_MANY = 2;
/** Proposals of one number of pieces whose figures all lie within this share are the same one, turned. */
const ALIKE_SHARE = 0.04;
/** Pieces whose pulls all lie within this of another proposal's are that proposal. */
const SAME_PULL_DEG = 18;
/** Most pieces that are suggested. */
export const MOST_PIECES = 8;

/**
 * Complete proposals for where the shell parts: pulls and parting lines together, best first.
 *
 * On a simplified surface every direction of a grid is swept for what it leaves hidden; promising sets of directions are
 * picked by what the surface costs when each face takes its best; the surface is shared out by least cuts (lines short, on
 * ridges rather than in valleys, out of the areas where none may run), pulls are fitted to pieces and the other way round;
 * borders are rounded until a shim can follow them, turned into control points, and laid and cut on the full surface by the
 * way that any plan's lines go. Only what comes out there as meant is handed out.
 *
 * @param surface of the scan. @param pieceCounts numbers of pieces asked for, each 1 to 8.
 * @param onSuggestions called with what there is so far, each time there is more; those are not yet tried on the full surface.
 * @returns the final list, the same that `onSuggestions` is given last.
 * @throws PlanError 'bad-plan': a number of pieces that cannot be; 'bad-line': nothing could be laid. Cancels at its checkpoint.
 * Cost: some seconds on the simplified surface; 1 million triangles add the simplifying and one cut a proposal.
 */
export async function suggestPartings(
  scan: PreparedScan,
  surface: SurfaceContext,
  plan: PlanDocument,
  pieceCounts: readonly number[] = DEFAULT_PIECE_COUNTS,
  cp: Checkpoint,
  onSuggestions: (suggestions: readonly Suggestion[]) => void = () => {},
): Promise<Suggestion[]> {
  checkCounts(pieceCounts);
  if (surface.scan !== scan) throw new Error('suggestPartings: the surface is that of another scan');
  const ground = await prepareGround(surface, plan, cp.within(0, 0.3, 'looking along every direction'));
  const counts = [...new Set(pieceCounts)].sort((a, b) => a - b);
  const most = counts.length === 1 ? KEPT_OF_ONE : KEPT_OF_MANY;
  const proposals: Proposal[] = [];
  for (const [n, count] of counts.entries()) {
    const from = 0.3 + (0.4 * n) / counts.length;
    const own = cp.within(from, from + 0.4 / counts.length, 'trying lines');
    await proposeFor(ground, count, proposals, own, () => {
      onSuggestions(rankAndTell(keepBest(proposals, most), plan));
    });
  }
  const chosen = await judgeClosely(
    ground,
    keepBest(proposals, most),
    cp.within(0.7, 0.85, 'measuring the undercuts'),
  );
  const kept = await layOnFull(ground, surface, chosen, cp.within(0.85, 1, 'laying the lines'));
  if (kept.length === 0) {
    throw new PlanError(
      'bad-line',
      'No parting lines were found that part this surface into sound pieces. Draw the lines by hand, or ask for another number of pieces.',
    );
  }
  const final = rankAndTell(kept, plan);
  await cp.pause(1);
  onSuggestions(final);
  return final;
}

function checkCounts(pieceCounts: readonly number[]): void {
  const isFit = (count: number): boolean => Number.isInteger(count) && count >= 1 && count <= MOST_PIECES;
  if (pieceCounts.length > 0 && pieceCounts.every(isFit)) return;
  throw new PlanError(
    'bad-plan',
    `Suggestions are made for 1 to ${MOST_PIECES} pieces, not for ${pieceCounts.join(', ') || 'none'}.`,
    'parting.pieceCount',
  );
}

/** Adds the proposals for one number of pieces to `into`; `told` is called after each. */
async function proposeFor(
  ground: SuggestGround,
  count: number,
  into: Proposal[],
  cp: Checkpoint,
  told: () => void,
): Promise<void> {
  const done: LabelledPieces[] = [];
  const first = count === 2 ? leastHiddenPair(ground) : null;
  if (first !== null) await propose(ground, first, done, into, cp.within(0, 0.1, 'trying lines'), told);
  const sets = await proposeSets(ground, count, cp.within(0.1, 0.2, 'sharing out the pieces'));
  for (const [n, set] of sets.entries()) {
    const own = cp.within(0.2 + (0.8 * n) / sets.length, 0.2 + (0.8 * (n + 1)) / sets.length, 'trying lines');
    await propose(ground, set, done, into, own, told);
  }
}

/** Adds the proposal for one set of directions to `into`, unless the same pieces were `done` before. */
async function propose(
  ground: SuggestGround,
  set: PullSet,
  done: LabelledPieces[],
  into: Proposal[],
  cp: Checkpoint,
  told: () => void,
): Promise<void> {
  const pieces = await sharePieces(ground, set.pulls, 0, cp.within(0, 0.6, 'sharing out the pieces'));
  // Different beginnings often come to the same pieces.
  if (pieces === null || done.some((other) => hasSamePulls(ground, pieces, other))) return;
  done.push(pieces);
  const made = await makeProposal(ground, pieces, cp.within(0.6, 1, 'trying lines'));
  if (made === null) return;
  into.push(made);
  told();
}

function hasSamePulls(ground: SuggestGround, a: LabelledPieces, b: LabelledPieces): boolean {
  const cosine = Math.cos((SAME_PULL_DEG * Math.PI) / 180);
  const isNear = (i: number, j: number): boolean => {
    const d = directionAt(ground.directions, i);
    const e = directionAt(ground.directions, j);
    return d[0] * e[0] + d[1] * e[1] + d[2] * e[2] > cosine;
  };
  return (
    a.pulls.every((i) => b.pulls.some((j) => isNear(i, j))) &&
    b.pulls.every((j) => a.pulls.some((i) => isNear(i, j)))
  );
}

/** Best first; of each number of pieces only the best few, and none that is another over again. */
function keepBest(proposals: readonly Proposal[], most: number): Proposal[] {
  const kept: Proposal[] = [];
  for (const proposal of [...proposals].sort((a, b) => a.score - b.score)) {
    const better = kept.filter((other) => other.pulls.length === proposal.pulls.length);
    if (better.length < most && !better.some((other) => isAlike(other, proposal))) kept.push(proposal);
  }
  return kept;
}

/** A round body can be parted the same way along any azimuth: the figures are the same, turned. */
function isAlike({ told: a }: Proposal, { told: b }: Proposal): boolean {
  const isNear = (x: number, y: number): boolean => Math.abs(x - y) <= ALIKE_SHARE * Math.max(x, y);
  const areasOf = (told: Proposal['told']): number[] =>
    told.pieces.map((piece) => piece.areaMm2).sort((x, y) => x - y);
  const others = areasOf(b);
  return (
    isNear(a.lineMm, b.lineMm) &&
    isNear(a.maxDepthMm, b.maxDepthMm) &&
    isNear(a.undercutMm2, b.undercutMm2) &&
    areasOf(a).every((area, n) => isNear(area, others[n]))
  );
}

/** The proposals with their pulls fitted and their undercuts measured as a plan's own are, in their new order. */
async function judgeClosely(
  ground: SuggestGround,
  proposals: readonly Proposal[],
  cp: Checkpoint,
): Promise<Proposal[]> {
  const judged: Proposal[] = [];
  for (const [n, proposal] of proposals.entries()) {
    const own = cp.within(n / proposals.length, (n + 1) / proposals.length, 'measuring the undercuts');
    judged.push(await fitProposal(ground, proposal, own));
  }
  return keepBest(judged, judged.length);
}

/** The proposals laid and cut on the full surface; those that do not come out as meant are left out. */
async function layOnFull(
  ground: SuggestGround,
  surface: SurfaceContext,
  proposals: readonly Proposal[],
  cp: Checkpoint,
): Promise<Proposal[]> {
  const laid: Proposal[] = [];
  for (const [n, proposal] of proposals.entries()) {
    const own = cp.within(n / proposals.length, (n + 1) / proposals.length, 'laying the lines');
    try {
      const onFull = await layAgain(
        surface,
        proposal.laid,
        proposal.labels,
        ground.graph.areas,
        ground.sourceVert,
        ground.plan.parting,
        own,
      );
      const figures = reorderFigures(proposal.figures, proposal.laid, onFull);
      laid.push({
        ...proposal,
        laid: onFull,
        figures,
        told: describeProposal(surface, onFull, figures, ground.plan),
      });
    } catch (error) {
      if (!(error instanceof PlanError)) throw error;
    }
  }
  return laid;
}

function rankAndTell(proposals: readonly Proposal[], plan: PlanDocument): Suggestion[] {
  const told = proposals.map((proposal) => proposal.told);
  const whys = explainRanks(told, plan.parting.rubberGiveMm);
  return told.map((each, n) => ({ rank: n + 1, why: whys[n], ...each }));
}
