import type { MouldFill } from './MouldFill.ts';
import { PRESS, PRESS_WIDTH } from './pressOnRegions.ts';

/**
 * Volume of the fluid over the board, mm3, from the pressed surface: by the divergence theorem with a field along z as long
 * as the depth, whose divergence is 1 and which is nothing on the level itself. What is left is the opening on the board.
 *
 * @param press rows of all regions and of what belongs to none, as `pressOnRegions` gives them.
 * @param openMm2 area of the opening on the board: integral of the upward normal over the whole surface.
 */
export function filledVolume(press: Float64Array, fill: MouldFill, openMm2: number): number {
  let fluxMm3 = 0;
  for (let row = PRESS.depthFlux; row < press.length; row += PRESS_WIDTH) fluxMm3 += press[row];
  return fluxMm3 - fill.depthPerMm * Math.max(0, fill.depthAtBoardMm) * openMm2;
}

/** Area of a surface's opening on the board, mm2: integral of the upward normal. 0 up to rounding where it is closed underneath. */
export function openingOnBoard(positions: Float64Array, indices: Uint32Array): number {
  let twice = 0;
  for (let i = 0; i < indices.length; i += 3) {
    const a = 3 * indices[i];
    const b = 3 * indices[i + 1];
    const c = 3 * indices[i + 2];
    twice +=
      (positions[b] - positions[a]) * (positions[c + 1] - positions[a + 1]) -
      (positions[b + 1] - positions[a + 1]) * (positions[c] - positions[a]);
  }
  return twice / 2;
}
