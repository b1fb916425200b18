import type { Checkpoint } from '../../checkpoint.ts';
import { AWAY_SINE } from './findHidden.ts';
import type { PieceCells } from './PieceCells.ts';
import { PieceObstacles } from './PieceObstacles.ts';
import type { PullPlan } from './PullPlan.ts';
import type { UndercutBody } from './UndercutBody.ts';
import type { RemovalOrder } from './UndercutStep.ts';

/**
 * The faces of a piece that another one's shell holds whatever the order: by triangle of the cut surface 1, or null when
 * all that stand in its way can be off before. Pieces outside a ring of waiting ones never have any. Faces that face away
 * from the pull are not asked: nothing more can hold them.
 */
export async function findHeldFaces(
  body: UndercutBody,
  region: number,
  { frame, columns }: PullPlan,
  cells: PieceCells,
  removal: RemovalOrder,
  shellMm: number,
  cp: Checkpoint,
): Promise<Uint8Array | null> {
  const { locked, waits } = removal;
  if (!locked.includes(region)) return null;
  const holders = waits.filter(([piece, by]) => piece === region && locked.includes(by)).map(([, by]) => by);
  if (holders.length === 0) return null;
  const { cutTriRegion } = body.cut;
  const [dx, dy, dz] = frame.d;
  const n = body.normals;
  const facesAway = (t: number): boolean =>
    n[3 * t] * dx + n[3 * t + 1] * dy + n[3 * t + 2] * dz < -AWAY_SINE;
  const obstacles = new PieceObstacles(body, region, frame, columns, cells, shellMm);
  const held = new Uint8Array(cutTriRegion.length);
  for (let t = 0; t < cutTriRegion.length; t++) {
    if (cutTriRegion[t] !== region || facesAway(t)) continue;
    if (cp.due()) await cp.pause(t / cutTriRegion.length);
    if (holders.includes(obstacles.firstMet(t))) held[t] = 1;
  }
  return held;
}
