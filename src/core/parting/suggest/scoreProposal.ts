import { BallGrid } from '../../field/BallGrid.ts';
import { buildTwins } from '../../mesh/buildTwins.ts';
import type { AreaBall } from '../../plan/ballsOf.ts';
import type { CutSurface } from '../types.ts';
import type { LaidProposal } from './layProposal.ts';
import { measureRuns, type ProposalFigures } from './ProposalFigures.ts';

/**
 * What makes a proposal worse, each as a share of something the body itself gives, so that the score does not depend on
 * its size. The order of weight is the order of trouble in the shop (own choice, no source): a shell that locks, then
 * filler to be made, then one piece more, then the length of shims and flange.
 */
const BEYOND_AREA_WEIGHT = 6;
const BEYOND_DEPTH_WEIGHT = 8;
const FILLER_WEIGHT = 30;
const WITHIN_AREA_WEIGHT = 0.5;
const PIECE_WEIGHT = 0.12;
const LINE_WEIGHT = 0.02;
const WALL_WEIGHT = 0.05;
const WAIT_WEIGHT = 0.02;
const LOCKED_WEIGHT = 0.6;
const LOOPS_WEIGHT = 0.05;
const SMALL_WEIGHT = 0.15;
const BARRED_WEIGHT = 5;
/** A piece of less than this share of the surface is not worth a mix of its own. */
const SMALL_SHARE = 0.06;

/** How bad a proposal is; 0 would be a shell in two pieces without lines. Lower is better. */
export function scoreProposal(
  laid: LaidProposal,
  figures: ProposalFigures,
  giveMm: number,
  diagonalMm: number,
  barred: readonly AreaBall[],
): number {
  let areaMm2 = 0;
  for (const piece of figures.pieces) areaMm2 += piece.areaMm2;
  const { lineMm } = measureRuns(laid);
  const borders = countBorders(laid.step.cut, buildTwins(laid.step.cut.indices).twins);
  let score =
    PIECE_WEIGHT * (figures.pieces.length - 2) +
    (LINE_WEIGHT * lineMm) / diagonalMm +
    WAIT_WEIGHT * figures.waits.length +
    LOCKED_WEIGHT * figures.locked.length +
    (BARRED_WEIGHT * barredMm(laid, barred)) / diagonalMm;
  figures.pieces.forEach((piece, region) => {
    score +=
      (BEYOND_AREA_WEIGHT * piece.beyondGiveMm2) / areaMm2 +
      (BEYOND_DEPTH_WEIGHT * Math.max(0, piece.tellingDepthMm - giveMm)) / diagonalMm +
      (FILLER_WEIGHT * piece.beyondGiveFillerMm3) / (areaMm2 * diagonalMm) +
      (WITHIN_AREA_WEIGHT * (piece.undercutMm2 - piece.beyondGiveMm2)) / areaMm2 +
      (WALL_WEIGHT * piece.wallBlockedMm) / diagonalMm +
      LOOPS_WEIGHT * Math.max(0, borders[region] - 1);
    const share = piece.areaMm2 / areaMm2;
    if (share < SMALL_SHARE) score += SMALL_WEIGHT * (1 - share / SMALL_SHARE);
  });
  return score;
}

/** Length of line inside the areas where none may run, mm. */
export function barredMm({ step }: LaidProposal, barred: readonly AreaBall[]): number {
  let sum = 0;
  if (barred.length === 0) return 0;
  const grid = new BallGrid(barred);
  for (const { points: q } of step.chains) {
    for (let i = 0; i + 5 < q.length; i += 3) {
      const x = (q[i] + q[i + 3]) / 2;
      const y = (q[i + 1] + q[i + 4]) / 2;
      const z = (q[i + 2] + q[i + 5]) / 2;
      if (grid.reachInto(x, y, z) > 0)
        sum += Math.hypot(q[i + 3] - q[i], q[i + 4] - q[i + 1], q[i + 5] - q[i + 2]);
    }
  }
  return sum;
}

/**
 * How many separate borders each region of a cut has: 1 for a disc. Runs of line and of rim count as one border where they
 * meet; a piece with more closes round the rubber like a sleeve. By region. O(triangles).
 */
export function countBorders(cut: CutSurface, twins: Int32Array): number[] {
  const { indices, cutTriRegion, regionCount } = cut;
  const into = new Int32Array(cut.positions.length / 3);
  const counts: number[] = [];
  for (let region = 0; region < regionCount; region++) {
    into.fill(-1);
    const onBorder: number[] = [];
    for (let h = 0; h < indices.length; h++) {
      if (cutTriRegion[Math.floor(h / 3)] !== region) continue;
      const o = twins[h];
      if (o >= 0 && cutTriRegion[Math.floor(o / 3)] === region) continue;
      const a = indices[h];
      const b = indices[h % 3 === 2 ? h - 2 : h + 1];
      onBorder.push(a, b);
      const one = rootOf(into, a);
      const two = rootOf(into, b);
      if (one !== two) into[one] = two;
    }
    counts.push(new Set(onBorder.map((v) => rootOf(into, v))).size);
  }
  return counts;
}

/** The vertex that stands for all that are joined to `v`; the way to it is halved as it is walked. */
function rootOf(into: Int32Array, v: number): number {
  let at = v;
  while (into[at] >= 0) {
    if (into[into[at]] >= 0) into[at] = into[into[at]];
    at = into[at];
  }
  return at;
}
