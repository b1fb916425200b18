import { vectorLength } from '../mesh/vectorLength.ts';
import type { BallGrid } from './BallGrid.ts';
import { cubeCut } from './cubeCut.ts';

/**
 * Share (0..1) of a cell whose nearest surface is not keep-clear. Where balls overlap the border is that of the one that
 * reaches farthest: right but within a cell of the notch between two.
 *
 * @param foot nearest point of the surface to the cell's centre. gx gy gz: unit direction in which the distance from it grows.
 */
export function openShare(
  keepClear: BallGrid,
  foot: ArrayLike<number>,
  gx: number,
  gy: number,
  gz: number,
  cellMm: number,
): number {
  keepClear.reachInto(foot[0], foot[1], foot[2]);
  if (keepClear.deepest < 0) return 1;
  const { centreMm, radiusMm } = keepClear.balls[keepClear.deepest];
  const dx = foot[0] - centreMm[0];
  const dy = foot[1] - centreMm[1];
  const dz = foot[2] - centreMm[2];
  const d = vectorLength(dx, dy, dz);
  const along = dx * gx + dy * gy + dz * gz;
  const nx = dx - along * gx;
  const ny = dy - along * gy;
  const nz = dz - along * gz;
  const length = vectorLength(nx, ny, nz);
  if (!(length > 0)) return d < radiusMm ? 0 : 1;
  // On the surface the ball's border moves d / length as fast as the distance from its centre.
  const outside = ((d - radiusMm) * d) / length;
  return cubeCut(-nx / length, -ny / length, -nz / length, outside / cellMm);
}
