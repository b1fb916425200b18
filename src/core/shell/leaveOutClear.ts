import { BallGrid } from '../field/BallGrid.ts';
import type { TriMesh } from '../mesh/TriMesh.ts';
import type { AreaBall } from '../plan/ballsOf.ts';

/** The values by vertex, NaN where the vertex lies in an area that is kept clear: nothing is laid there. O(vertices). */
export function leaveOutClear(
  { positions: p }: TriMesh,
  values: Float64Array,
  keepClear: readonly AreaBall[],
): Float64Array {
  if (keepClear.length === 0) return values;
  const grid = new BallGrid(keepClear);
  return values.map((value, v) =>
    grid.reachInto(p[3 * v], p[3 * v + 1], p[3 * v + 2]) > 0 ? Number.NaN : value,
  );
}
