import { outerDistanceMm } from '../../assembleResult.ts';
import type { Checkpoint } from '../../checkpoint.ts';
import type { PlanDocument } from '../../plan/PlanDocument.ts';
import type { SurfaceContext } from '../SurfaceContext.ts';
import { DepthSearch } from '../undercut/DepthSearch.ts';
import { findDepths } from '../undercut/findDepths.ts';
import { findHidden, type HiddenFaces } from '../undercut/findHidden.ts';
import { groupSpots } from '../undercut/groupSpots.ts';
import { PieceCells } from '../undercut/PieceCells.ts';
import { PieceObstacles } from '../undercut/PieceObstacles.ts';
import { makePullPlan, type PullPlan } from '../undercut/PullPlan.ts';
import { orderRemoval } from '../undercut/removalOrder.ts';
import { makeUndercutBody, type UndercutBody } from '../undercut/UndercutBody.ts';
import { type WallDraft, wallDraft } from '../undercut/wallDraft.ts';
import type { LaidProposal } from './layProposal.ts';
import type { PieceFigures, ProposalFigures } from './ProposalFigures.ts';
import { sampleFiller } from './sampleFiller.ts';

/** A wall holds when it leans the wrong way along more than this share of the line, as for a plan. */
const HELD_SHARE = 0.03;
/** Faces of a piece whose way out is walked past the other pieces' shells, and the share of them that must meet one. */
const WALKED = 150;
const MET_SHARE = 0.01;
/** Spots smaller than this share of the surface do not rank a proposal: on a simplified surface they may be its own roughness. */
const TELLING_SHARE = 2e-4;

/**
 * Figures of a proposal on the surface that it was laid on, by the steps that measure a plan's own undercuts: what is hidden
 * and how deep by exact rays, filler and order of removal from fewer samples. What a simplified surface leaves out is left
 * out. Cancels at its checkpoint. Cost: about half a second a proposal.
 */
export async function measureClosely(
  surface: SurfaceContext,
  { step }: LaidProposal,
  plan: PlanDocument,
  cp: Checkpoint,
): Promise<ProposalFigures> {
  const { cut, chains, pieces } = step;
  const { regionCount } = cut;
  const shellMm = outerDistanceMm(plan);
  const body = makeUndercutBody(surface, cut);
  const pullPlans = pieces.map((piece) => makePullPlan(body, piece.pull));
  const walls = wallDraft(
    surface,
    cut.segments,
    chains,
    regionCount,
    pullPlans.map(({ frame }) => frame.d),
    shellMm,
  );
  const cells = new PieceCells(body);
  const areasMm2 = new Float64Array(regionCount);
  let wholeMm2 = 0;
  for (let t = 0; t < body.areasMm2.length; t++) {
    areasMm2[cut.cutTriRegion[t]] += body.areasMm2[t];
    wholeMm2 += body.areasMm2[t];
  }
  const figures: PieceFigures[] = [];
  for (let region = 0; region < regionCount; region++) {
    const own = cp.within(region / regionCount, (region + 1) / regionCount, 'measuring the undercuts');
    const locks = await measureLocks(
      body,
      region,
      pullPlans[region],
      plan.parting.rubberGiveMm,
      wholeMm2,
      own,
    );
    const fillerMm3 = sampleFiller(body, region, locks.hidden, pullPlans[region], cells);
    await own.pause(0.9);
    figures.push({
      ...locks.figures,
      areaMm2: areasMm2[region],
      fillerMm3,
      beyondGiveFillerMm3: fillerMm3 * locks.beyondShare,
      wallBlockedMm: walls.blockedMm[region],
    });
  }
  const blocked = findBlocked(body, pullPlans, cells, walls, shellMm, areasMm2);
  await cp.pause(1);
  return { pieces: figures, ...orderRemoval(blocked, regionCount) };
}

interface Locks {
  readonly hidden: HiddenFaces;
  readonly figures: Pick<PieceFigures, 'undercutMm2' | 'beyondGiveMm2' | 'maxDepthMm' | 'tellingDepthMm'>;
  /** Share of area times depth that lies in spots deeper than the give. */
  readonly beyondShare: number;
}

async function measureLocks(
  body: UndercutBody,
  region: number,
  { frame, columns, verts }: PullPlan,
  giveMm: number,
  wholeMm2: number,
  cp: Checkpoint,
): Promise<Locks> {
  const triCount = body.cut.cutTriRegion.length;
  const hidden = await findHidden(
    body,
    region,
    frame,
    columns,
    new Uint8Array(triCount),
    cp.within(0, 0.4, 'measuring the undercuts'),
  );
  const undercutMm2 = hidden.facingAwayMm2 + hidden.byRubberMm2 + hidden.byBoardMm2;
  if (hidden.tris.length === 0) {
    const none = { undercutMm2, beyondGiveMm2: 0, maxDepthMm: 0, tellingDepthMm: 0 };
    return { hidden, figures: none, beyondShare: 0 };
  }
  const groups = groupSpots(body.cut, hidden.tris);
  const overBoard = body.standsOnBoard && frame.d[2] >= 0;
  const { depthMm } = await findDepths(
    body,
    frame,
    new DepthSearch(verts, body.indices, columns, body.diagonalMm, overBoard),
    hidden.tris,
    groups,
    new Float32Array(3 * triCount),
    cp.within(0.4, 0.9, 'measuring how deep it locks'),
  );
  const spotMm2 = new Float64Array(groups.count);
  hidden.tris.forEach((_, n) => {
    spotMm2[groups.groupOf[n]] += hidden.hiddenMm2[n];
  });
  let beyondGiveMm2 = 0;
  let maxDepthMm = 0;
  let tellingDepthMm = 0;
  let weight = 0;
  let beyondWeight = 0;
  for (let spot = 0; spot < groups.count; spot++) {
    maxDepthMm = Math.max(maxDepthMm, depthMm[spot]);
    if (spotMm2[spot] > TELLING_SHARE * wholeMm2) tellingDepthMm = Math.max(tellingDepthMm, depthMm[spot]);
    weight += spotMm2[spot] * depthMm[spot];
    if (depthMm[spot] <= giveMm) continue;
    beyondGiveMm2 += spotMm2[spot];
    beyondWeight += spotMm2[spot] * depthMm[spot];
  }
  return {
    hidden,
    figures: { undercutMm2, beyondGiveMm2, maxDepthMm, tellingDepthMm },
    beyondShare: weight > 0 ? beyondWeight / weight : 0,
  };
}

/** For `orderRemoval`: who holds whom by the wall between them, or by its shell in the other's way. */
function findBlocked(
  body: UndercutBody,
  pullPlans: readonly PullPlan[],
  cells: PieceCells,
  walls: WallDraft,
  shellMm: number,
  areasMm2: Float64Array,
): Uint8Array {
  const n = areasMm2.length;
  const blocked = new Uint8Array(n * n);
  for (let pair = 0; pair < n * n; pair++) {
    if (walls.heldMm[pair] > HELD_SHARE * walls.sharedMm[pair]) blocked[pair] = 1;
  }
  if (n < 2 || !(shellMm > 0)) return blocked;
  const { cutTriRegion } = body.cut;
  for (let region = 0; region < n; region++) {
    const { frame, columns } = pullPlans[region];
    const obstacles = new PieceObstacles(body, region, frame, columns, cells, shellMm);
    const metMm2 = new Float64Array(n);
    const strideMm2 = areasMm2[region] / WALKED;
    let passedMm2 = 0;
    let nextMm2 = strideMm2 / 2;
    for (let t = 0; t < cutTriRegion.length; t++) {
      if (cutTriRegion[t] !== region) continue;
      passedMm2 += body.areasMm2[t];
      if (passedMm2 < nextMm2) continue;
      const taken = Math.floor((passedMm2 - nextMm2) / strideMm2) + 1;
      nextMm2 += taken * strideMm2;
      const by = obstacles.firstMet(t);
      if (by >= 0) metMm2[by] += taken * strideMm2;
    }
    for (let by = 0; by < n; by++)
      if (metMm2[by] > MET_SHARE * areasMm2[region]) blocked[region * n + by] = 1;
  }
  return blocked;
}
