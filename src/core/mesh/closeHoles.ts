import { buildTwins } from './buildTwins.ts';
import { fillHoles } from './fillHoles.ts';
import { threeDigits } from './guessUnit.ts';
import { loopPoints, type OpenLoop } from './measureLoop.ts';
import { countOf, type NoteBook } from './NoteBook.ts';
import type { TriMesh } from './TriMesh.ts';

export interface Closed {
  readonly mesh: TriMesh;
  readonly twins: Int32Array;
  readonly filledAreaMm2: number;
  /** Open loops that are left off the board. */
  readonly left: readonly OpenLoop[];
}

/** The mesh with its small holes filled; filled and left ones are noted, marked and warned of. */
export function closeHoles(
  input: { mesh: TriMesh; twins: Int32Array },
  fillHolesToMm: number,
  standsOnBoard: boolean,
  notes: NoteBook,
): Closed {
  const filled = fillHoles(input.mesh, input.twins, fillHolesToMm, standsOnBoard);
  const count = filled.filledLoops.length;
  notes.repaired(
    'holes-filled',
    `${countOf(count, 'hole')} with a rim of up to ${threeDigits(fillHolesToMm)} mm filled, ${threeDigits(filled.areaMm2)} mm² in all.`,
    count,
  );
  for (const points of filled.filledLoops) notes.marked('holes-filled', points, true);
  const longest = filled.left.reduce((most, loop) => Math.max(most, loop.perimeter), 0);
  notes.warned(
    'holes-left',
    `${countOf(filled.left.length, 'hole')} left open, the longest rim ${threeDigits(longest)} mm. Raise the limit for filling, crop, or scan again; volumes near a hole are uncertain.`,
    filled.left.length,
  );
  for (const loop of filled.left) notes.marked('holes-left', loopPoints(input.mesh, loop.halfEdges), true);
  const twins = filled.mesh === input.mesh ? input.twins : buildTwins(filled.mesh.indices).twins;
  return { mesh: filled.mesh, twins, filledAreaMm2: filled.areaMm2, left: filled.left };
}
