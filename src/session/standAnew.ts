import type { Vec3 } from '../core/mesh/TriMesh.ts';
import { type PlanDocument, type ScanPlan, UP_AXES, type UpAxis } from '../core/plan/PlanDocument.ts';
import type { PlanEdit } from './SessionStore.ts';
import { type RigidMove, turnPlan, turnVector } from './turnPlan.ts';
import {
  anglesOfRotation,
  multiply,
  NO_TURN,
  type Rotation,
  rotationOf,
  transposed,
  type UprightAngles,
} from './uprightAngles.ts';

/** How the mould of an answer stands: read from the map that brought the file onto its board. */
export interface Standing {
  /** File axes to board axes. */
  readonly rotation: Rotation;
  /** Height of the board above the file's origin, along the board's z, mm. */
  readonly boardMm: number;
}

/** @param fileToBoard row-major 3 x 4: a scale, then a rotation, then a shift along z alone */
export function standingOf(fileToBoard: readonly number[]): Standing {
  const f = fileToBoard;
  const scale = Math.hypot(f[0], f[4], f[8]);
  return {
    rotation: [0, 1, 2, 4, 5, 6, 8, 9, 10].map((i) => f[i] / scale),
    boardMm: -f[11] + 0,
  };
}

/** What goes with the mould when it is set anew: from the board's frame that was to the one that will be. */
export function moveBetween(before: Standing, after: Standing): RigidMove {
  const turn = multiply(after.rotation, transposed(before.rotation));
  const [x, y, z] = turnVector(turn, [0, 0, before.boardMm]);
  return { turn, shiftMm: [x, y, z - after.boardMm] };
}

/**
 * Stands the mould anew: `turn` is the further turn, in the board's axes; `boardMm` the height of the board above the
 * file's origin in the axes after it. What was drawn on the mould goes along. `keepsFinding`: the board stays for the
 * tool to find ('auto') where it was so and nothing in the plan hangs on its exact height.
 */
export const standAnew =
  (before: Standing, turn: Rotation, boardMm: number, keepsFinding: boolean): PlanEdit =>
  (plan) => {
    const after: Standing = { rotation: multiply(turn, before.rotation), boardMm };
    const angles = anglesOfRotation(after.rotation);
    const moved = turnPlan(plan, moveBetween(before, { rotation: rotationOf(angles), boardMm }));
    const isFound = keepsFinding && plan.scan.board !== 'none' && !hasPlaces(plan);
    const board = keepsFinding && plan.scan.board === 'none' ? 'none' : isFound ? 'auto' : roundMm(boardMm);
    return { ...moved, scan: { ...moved.scan, ...angles, board } };
  };

/** Sets the board at a height above the file's origin, mm; what was drawn on the mould stays where it is on it. */
export const setBoardHeight =
  (before: Standing, boardMm: number): PlanEdit =>
  (plan) => {
    const shiftMm: Vec3 = [0, 0, before.boardMm - boardMm];
    const moved = turnPlan(plan, { turn: NO_TURN, shiftMm });
    return { ...moved, scan: { ...moved.scan, board: roundMm(boardMm) } };
  };

/** Sets the turn or a tilt; what was drawn on the mould goes along. An axis that was found is written down. */
export const setAngles =
  (before: Standing, change: Partial<Pick<UprightAngles, 'turnDeg' | 'tiltDeg'>>): PlanEdit =>
  (plan) => {
    const { scan } = plan;
    const now = { up: upNow(before, scan), turnDeg: scan.turnDeg, tiltDeg: scan.tiltDeg };
    const next = { ...now, ...change };
    const { boardMm } = before;
    const move = moveBetween({ rotation: rotationOf(now), boardMm }, { rotation: rotationOf(next), boardMm });
    const moved = turnPlan(plan, move);
    return { ...moved, scan: { ...moved.scan, ...next } };
  };

/** The axis that points up: the plan's, or the one found, with which the plan's angles give the standing. */
function upNow(standing: Standing, { up, turnDeg, tiltDeg }: ScanPlan): UpAxis {
  if (up !== 'auto') return up;
  let best: UpAxis = 'z';
  let least = Infinity;
  for (const axis of UP_AXES) {
    const rotation = rotationOf({ up: axis, turnDeg, tiltDeg });
    const off = Math.hypot(...rotation.map((x, i) => x - standing.rotation[i]));
    if (off < least) {
      least = off;
      best = axis;
    }
  }
  return best;
}

/** True when something in the plan has a place on the mould, which a board found anew could put out by a little. */
function hasPlaces({ scan, parting, log }: PlanDocument): boolean {
  return (
    scan.crops.length > 0 ||
    scan.keepClear.length > 0 ||
    parting.lines !== 'auto' ||
    parting.pieces.length > 0 ||
    parting.notHere.length > 0 ||
    (parting.blockOut !== 'all' && parting.blockOut.length > 0) ||
    log.probes.length > 0
  );
}

/** To a ten-thousandth of a millimetre: far below what a scan can tell, short enough to read in the plan file. */
const roundMm = (mm: number): number => Number(mm.toFixed(4)) + 0;
