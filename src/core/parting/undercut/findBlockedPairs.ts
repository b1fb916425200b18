import type { Checkpoint } from '../../checkpoint.ts';
import type { PieceCells } from './PieceCells.ts';
import { PieceObstacles } from './PieceObstacles.ts';
import type { PullPlan } from './PullPlan.ts';
import type { UndercutBody } from './UndercutBody.ts';
import type { WallDraft } from './wallDraft.ts';

/** A wall holds when it leans the wrong way along more than this share of the line: a short bit gives, or is ground away. */
const HELD_SHARE = 0.05;

/** A neighbour holds when it stands in front of more than this share of the piece: less is an edge that is ground away. */
const MET_SHARE = 0.015;

/** Faces of a piece whose way is walked, evenly spread over its area. */
const SAMPLES = 1200;

/**
 * Which pieces stand in whose way: regionCount x regionCount, row-major, 1 at [i, j] when j has to be off before i can
 * move along its pull: by the wall between them, or by j's shell in front of i's.
 *
 * Cost: some 10 ms a piece, more where pieces stand in front of each other.
 */
export async function findBlockedPairs(
  body: UndercutBody,
  pullPlans: readonly PullPlan[],
  cells: PieceCells,
  walls: WallDraft,
  shellMm: number,
  cp: Checkpoint,
): Promise<Uint8Array> {
  const { cut, areasMm2 } = body;
  const n = cut.regionCount;
  const out = new Uint8Array(n * n);
  for (let pair = 0; pair < n * n; pair++) {
    if (walls.heldMm[pair] > HELD_SHARE * walls.sharedMm[pair]) out[pair] = 1;
  }
  if (n < 2 || !(shellMm > 0)) return out;
  const regionMm2 = new Float64Array(n);
  for (let t = 0; t < areasMm2.length; t++)
    if (cut.cutTriRegion[t] >= 0) regionMm2[cut.cutTriRegion[t]] += areasMm2[t];
  for (let region = 0; region < n; region++) {
    const { frame, columns } = pullPlans[region];
    const obstacles = new PieceObstacles(body, region, frame, columns, cells, shellMm);
    const metMm2 = new Float64Array(n);
    const stride = regionMm2[region] / SAMPLES;
    let passed = 0;
    let next = stride / 2;
    for (let t = 0; t < areasMm2.length; t++) {
      if (cut.cutTriRegion[t] !== region) continue;
      passed += areasMm2[t];
      if (passed < next) continue;
      const taken = Math.floor((passed - next) / stride) + 1;
      next += taken * stride;
      if (cp.due()) await cp.pause((region + passed / regionMm2[region]) / n);
      const by = obstacles.firstMet(t);
      if (by >= 0) metMm2[by] += taken * stride;
    }
    for (let by = 0; by < n; by++) if (metMm2[by] > MET_SHARE * regionMm2[region]) out[region * n + by] = 1;
  }
  return out;
}
