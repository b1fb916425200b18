import type { Vec3 } from '../core/mesh/TriMesh.ts';
import type { PartingLineResult } from '../core/PlanResult.ts';
import { DEFAULT_FLANGE } from '../core/plan/newPlan.ts';
import type { FlangePlan, PartingLinePlan, PiecePlan } from '../core/plan/PlanDocument.ts';
import { joinLines } from './joinLines.ts';
import type { PlanEdit } from './SessionStore.ts';

/** Without a flange, or back to the usual one. */
export const switchFlange = (): PlanEdit => (plan) => ({
  ...plan,
  parting: { ...plan.parting, flange: plan.parting.flange === null ? DEFAULT_FLANGE : null },
});

/** Back to the tool's own lines, for this many pieces. */
export const suggestLines =
  (pieceCount: number): PlanEdit =>
  (plan) => ({ ...plan, parting: { ...plan.parting, pieceCount, lines: 'auto' } });

export const setPieceCount =
  (pieceCount: number): PlanEdit =>
  (plan) => ({
    ...plan,
    parting: { ...plan.parting, pieceCount, pullAzimuthsDeg: 'auto', lines: 'auto', pieces: [] },
  });

/** Pulls for the tool's own lines, degrees from +x, counter-clockwise from above. */
export const setPullAzimuths =
  (azimuthsDeg: readonly number[] | 'auto'): PlanEdit =>
  (plan) => ({ ...plan, parting: { ...plan.parting, pullAzimuthsDeg: azimuthsDeg } });

/**
 * Suggested lines become the user's own, so that they can be edited, and every piece keeps name and pull: a point that is
 * nudged asks for no other pulls. Lines that are the user's already stay, and so does all before the first answer.
 */
export const adoptLines =
  (now: PartingNow | null): PlanEdit =>
  (plan) =>
    plan.parting.lines !== 'auto' || now === null
      ? plan
      : { ...plan, parting: { ...plan.parting, lines: now.lines, pieces: keptPieces(now) } };

/** Adds a drawn line. The tool's own lines give way to the first drawn one. */
export const addLine =
  (points: readonly Vec3[], closed: boolean): PlanEdit =>
  (plan) => {
    const own = plan.parting.lines === 'auto' ? [] : plan.parting.lines;
    const line: PartingLinePlan = { id: freeLineId(own), points, closed };
    return { ...plan, parting: { ...plan.parting, lines: [...own, line] } };
  };

export const removeLine = (index: number): PlanEdit =>
  changeLines((lines) => lines.filter((_, i) => i !== index));

export const movePoint = (lineIndex: number, pointIndex: number, point: Vec3): PlanEdit =>
  changeLine(lineIndex, (line) => ({
    ...line,
    points: line.points.map((p, i) => (i === pointIndex ? point : p)),
  }));

/** Takes a point out; a line left with fewer than two (closed: three) points goes with it. */
export const removePoint = (lineIndex: number, pointIndex: number): PlanEdit =>
  changeLines((lines) =>
    lines.flatMap((line, i) => {
      if (i !== lineIndex) return [line];
      const points = line.points.filter((_, k) => k !== pointIndex);
      return points.length < (line.closed ? 3 : 2) ? [] : [{ ...line, points }];
    }),
  );

/** The points of a line, all at once, as after it was smoothed. */
export const replacePoints = (lineIndex: number, points: readonly Vec3[]): PlanEdit =>
  changeLine(lineIndex, (line) => (points.length < (line.closed ? 3 : 2) ? line : { ...line, points }));

/** What joining and splitting need to know of the present answer. */
export interface PartingNow {
  /** The lines as they lie: the user's own, or the suggested ones. */
  readonly lines: readonly PartingLinePlan[];
  /** Every piece as it is, in order, with its id and a point inside it. */
  readonly pieces: readonly (PiecePlan & { readonly id: string })[];
}

/**
 * A drawn line that cuts a piece in two. All lines stay, suggested ones become the user's own; every piece keeps name and pull,
 * the one that was cut keeps them for the part that holds its anchor.
 */
export const splitPiece =
  (points: readonly Vec3[], closed: boolean, now: PartingNow): PlanEdit =>
  (plan) => ({
    ...plan,
    parting: {
      ...plan.parting,
      lines: [...now.lines, { id: freeLineId(now.lines), points, closed }],
      pieces: keptPieces(now),
    },
  });

const keptPieces = ({ pieces }: PartingNow): PiecePlan[] =>
  pieces.map(({ anchorMm, name, pull }) => ({ anchorMm, name, pull }));

/**
 * Makes one piece of two: what line there is between them goes, every other stretch stays. The joined piece has the first
 * one's name, and its pull if the user gave it one; otherwise the tool chooses anew. Pieces that share no line are left apart.
 */
export const joinPieces =
  (pair: readonly [string, string], runs: readonly PartingLineResult[], now: PartingNow): PlanEdit =>
  (plan) => {
    const { parting } = plan;
    if (pair[0] === pair[1] || !runs.some((run) => isBetween(run, pair))) return plan;
    const left = joinLines(runs, now.lines, pair);
    // Nothing parts the shell any more: the plan says so by the number of pieces, for an empty list of lines would not.
    if (left.length === 0) {
      return { ...plan, parting: { ...parting, lines: 'auto', pieceCount: 1, pieces: [] } };
    }
    const pieces = now.pieces
      .filter(({ id }) => id !== pair[1])
      .map(({ id, anchorMm, name, pull }) => ({
        anchorMm,
        name,
        pull: id === pair[0] ? (parting.pieces.find((p) => p.name === name)?.pull ?? null) : pull,
      }));
    return { ...plan, parting: { ...parting, lines: left, pieces } };
  };

function isBetween({ between: [a, b] }: PartingLineResult, [c, d]: readonly [string, string]): boolean {
  return (a === c && b === d) || (a === d && b === c);
}

export const setFlange =
  (flange: FlangePlan | null): PlanEdit =>
  (plan) => {
    if (flange !== null && !(flange.widthMm > 0 && flange.thicknessMm > 0)) return plan;
    return { ...plan, parting: { ...plan.parting, flange } };
  };

/**
 * Names a piece or gives it a pull. `anchors` are points inside the pieces as they are now, by order of pieces, with
 * their names; a piece without an entry in the plan gets one, so that the others keep theirs.
 */
export const describePiece =
  (
    index: number,
    anchors: readonly PiecePlan[],
    change: Partial<Pick<PiecePlan, 'name' | 'pull'>>,
  ): PlanEdit =>
  (plan) => ({
    ...plan,
    parting: {
      ...plan.parting,
      pieces: anchors.map((piece, i) => (i === index ? { ...piece, ...change } : piece)),
    },
  });

function changeLines(change: (lines: readonly PartingLinePlan[]) => readonly PartingLinePlan[]): PlanEdit {
  return (plan) => {
    const { lines } = plan.parting;
    if (lines === 'auto') return plan;
    const next = change(lines);
    return { ...plan, parting: { ...plan.parting, lines: next.length === 0 ? 'auto' : next } };
  };
}

function changeLine(index: number, change: (line: PartingLinePlan) => PartingLinePlan): PlanEdit {
  return changeLines((lines) => lines.map((line, i) => (i === index ? change(line) : line)));
}

function freeLineId(lines: readonly PartingLinePlan[]): string {
  let n = lines.length + 1;
  while (lines.some((line) => line.id === `line-${n}`)) n++;
  return `line-${n}`;
}
