import type { Vec3 } from '../core/mesh/TriMesh.ts';
import type { PiecePlan } from '../core/plan/PlanDocument.ts';
import { describePiece, setPullAzimuths } from '../session/partingActions.ts';
import type { PlanEdit, SessionState } from '../session/SessionStore.ts';
import { azimuthDeg } from './azimuth.ts';
import { describePieces } from './pieceSpots.ts';

/** A pull whose rise is less than this (sine) counts as level: a tenth of a degree. */
const LEVEL_SINE = Math.sin(Math.PI / 1800);

const isLevel = (pull: Vec3): boolean => Math.abs(pull[2]) < LEVEL_SINE;

/**
 * The edit that gives a piece this pull. On the tool's own line a level pull is an azimuth, with which the line turns, and
 * with two pieces both pulls go opposite ways; a tilted one is that piece's own and leaves the line where it is. On the
 * user's lines every pull is the piece's own. Null while there is no answer whose pieces could be told.
 */
export function setPiecePull(session: SessionState, index: number, pull: Vec3): PlanEdit | null {
  const { answer, plan } = session;
  if (!answer || index >= answer.result.pieces.length) return null;
  const { pieces } = answer.result;
  const isAuto = plan.parting.lines === 'auto';
  if (!isAuto || !isLevel(pull) || pieces.length === 1) {
    return describePiece(index, knownPieces(session), { pull });
  }
  const deg = azimuthDeg(pull);
  if (pieces.length === 2) {
    const first = index === 0 ? deg : (deg + 180) % 360;
    return inTurn(setPullAzimuths([first]), withoutPulls());
  }
  const azimuths = pieces.map((piece, i) => (i === index ? deg : azimuthDeg(piece.pull)));
  return inTurn(setPullAzimuths(azimuths), describePiece(index, knownPieces(session), { pull: null }));
}

/**
 * The edit for a pair of pulls that part the mould in two: the first piece this way, the second the opposite way. On a
 * board nothing is pulled down through it, so that the opposite of a pull that rises is level there. Null unless there are
 * two pieces, and for a pull straight up, whose opposite would be.
 */
export function setPullPair(session: SessionState, pull: Vec3): PlanEdit | null {
  const { answer, plan } = session;
  if (answer?.result.pieces.length !== 2) return null;
  if (plan.parting.lines === 'auto' && isLevel(pull)) return setPiecePull(session, 0, pull);
  const back = oppositeOf(pull, plan.scan.board !== 'none');
  if (back === null) return null;
  const known = knownPieces(session).map((piece, i) => (i === 1 ? { ...piece, pull: back } : piece));
  return describePiece(0, known, { pull });
}

/** Zeros stay plain: a plan is compared and written as JSON, which knows no negative zero. */
function oppositeOf([x, y, z]: Vec3, isOnBoard: boolean): Vec3 | null {
  if (!isOnBoard || Math.abs(z) < LEVEL_SINE) return [0 - x, 0 - y, 0 - z];
  const level = Math.hypot(x, y);
  return level < LEVEL_SINE ? null : [(0 - x) / level, (0 - y) / level, 0];
}

/** The edit that renames a piece; pulls stay whose they are. */
export function namePiece(session: SessionState, index: number, name: string): PlanEdit | null {
  return session.answer ? describePiece(index, knownPieces(session), { name }) : null;
}

/** Every piece with its anchor; on the tool's own lines a pull is the piece's own only where the user tilted it. */
function knownPieces({ answer, plan }: SessionState): PiecePlan[] {
  if (!answer) return [];
  const known = describePieces(answer.result, answer.geometry.pieces);
  if (plan.parting.lines !== 'auto') return [...known];
  const hasOwn = plan.parting.pieces.some((piece) => piece.pull !== null);
  return known.map((piece) => ({
    ...piece,
    pull: hasOwn && piece.pull !== null && !isLevel(piece.pull) ? piece.pull : null,
  }));
}

/** The pieces' own pulls give way to the line's. */
const withoutPulls = (): PlanEdit => (plan) => ({
  ...plan,
  parting: { ...plan.parting, pieces: plan.parting.pieces.map((piece) => ({ ...piece, pull: null })) },
});

const inTurn =
  (...edits: readonly PlanEdit[]): PlanEdit =>
  (plan) =>
    edits.reduce((next, edit) => edit(next), plan);
