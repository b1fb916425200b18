import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { PartingLinePlan } from '../../core/plan/PlanDocument.ts';
import type { PartingNow } from '../../session/partingActions.ts';
import type { SessionState } from '../../session/SessionStore.ts';
import { describePieces } from '../pieceSpots.ts';

/** The lines as they lie, in the plan's form: the user's own, or the suggested ones of the present answer. */
export function linesNow({ plan, answer }: SessionState): readonly PartingLinePlan[] {
  if (plan.parting.lines !== 'auto') return plan.parting.lines;
  return (answer?.geometry.lines ?? []).map((line) => ({
    id: line.id,
    closed: line.closed,
    points: pointsOf(line.controlPoints),
  }));
}

/** Lines and pieces as they lie, for splitting and joining; null before the first answer. */
export function partingNow(session: SessionState): PartingNow | null {
  const { answer } = session;
  if (!answer) return null;
  const { result, geometry } = answer;
  return {
    lines: linesNow(session),
    pieces: describePieces(result, geometry.pieces).map((piece, i) => ({
      ...piece,
      id: result.pieces[i].id,
    })),
  };
}

function pointsOf(flat: Float32Array): Vec3[] {
  const points: Vec3[] = [];
  for (let i = 0; i + 2 < flat.length; i += 3) points.push([flat[i], flat[i + 1], flat[i + 2]]);
  return points;
}
