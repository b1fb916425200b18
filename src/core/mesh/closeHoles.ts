import { leftCode } from '../plan/leavableRepairs.ts';
import { formatArea } from '../units.ts';
import { buildTwins } from './buildTwins.ts';
import { type Filled, fillHoles } from './fillHoles.ts';
import { lidArea } from './lidArea.ts';
import { loopPoints, type OpenLoop } from './measureLoop.ts';
import { countOf, type NoteBook } from './NoteBook.ts';
import { sayLength } from './sayLength.ts';
import { splitFans } from './splitFans.ts';
import type { TriMesh } from './TriMesh.ts';

export interface Closed {
  readonly mesh: TriMesh;
  readonly twins: Int32Array;
  readonly filledAreaMm2: number;
  /** Open loops that are left off the board. */
  readonly left: readonly OpenLoop[];
  /** Area of lids over these, mm2. */
  readonly openAreaMm2: number;
}

/** The mesh with its small holes filled, or with `isLeft` left open too; filled and left ones are noted, marked and warned of. */
export function closeHoles(
  input: { mesh: TriMesh; twins: Int32Array },
  fillHolesToMm: number,
  standsOnBoard: boolean,
  isLeft: boolean,
  notes: NoteBook,
): Closed {
  const { filled, twins } = fillSoundly(input, isLeft ? 0 : fillHolesToMm, standsOnBoard);
  const count = filled.filledLoops.length;
  notes.repaired(
    'holes-filled',
    (system) =>
      `${countOf(count, 'hole')} with a rim of up to ${sayLength(fillHolesToMm, system)} filled, ${formatArea(filled.areaMm2, system)} in all.`,
    count,
  );
  for (const { points, tris } of filled.filledLoops) notes.markedLoop('holes-filled', points, tris);
  // Small ones off the board would have been filled.
  const isSmall = (loop: OpenLoop): boolean =>
    isLeft && loop.perimeter <= fillHolesToMm && !(standsOnBoard && loop.min[2] === 0);
  const small = filled.left.filter(isSmall);
  const large = filled.left.filter((loop) => !isSmall(loop));
  notes.left(
    'holes-filled',
    (system) =>
      `${countOf(small.length, 'hole')} with a rim of up to ${sayLength(fillHolesToMm, system)} left open; volumes near a hole are uncertain.`,
    small.length,
  );
  for (const loop of small)
    notes.markedLoop(leftCode('holes-filled'), loopPoints(input.mesh, loop.halfEdges));
  const longest = large.reduce((most, loop) => Math.max(most, loop.perimeter), 0);
  notes.warned(
    'holes-left',
    (system) =>
      `${countOf(large.length, 'hole')} left open, the longest rim ${sayLength(longest, system)}. Raise the limit for filling, crop, or scan again; volumes near a hole are uncertain.`,
    large.length,
  );
  for (const loop of large) notes.markedLoop('holes-left', loopPoints(input.mesh, loop.halfEdges));
  const openAreaMm2 = filled.left.reduce((sum, { halfEdges }) => sum + lidArea(input.mesh, halfEdges), 0);
  return { mesh: filled.mesh, twins, filledAreaMm2: filled.areaMm2, left: filled.left, openAreaMm2 };
}

/** Touching holes one by one if that leaves a manifold, else as the loops that they form together. */
function fillSoundly(
  input: { mesh: TriMesh; twins: Int32Array },
  fillHolesToMm: number,
  standsOnBoard: boolean,
): { filled: Filled; twins: Int32Array } {
  for (const splitsPinches of [true, false]) {
    const filled = fillHoles(input.mesh, input.twins, fillHolesToMm, standsOnBoard, splitsPinches);
    if (filled.mesh === input.mesh) return { filled, twins: input.twins };
    const { twins, nonManifoldEdges } = buildTwins(filled.mesh.indices);
    const isSound = nonManifoldEdges === 0 && splitFans(filled.mesh, twins).added === 0;
    if (isSound || !splitsPinches) return { filled, twins };
  }
  throw new Error('fillSoundly: unreachable, the second way always answers');
}
