/** Angle between neighbours when nothing else is asked: 537 directions over a board, about twice that without one. */
export const GRID_STEP_DEG = 6.5;

/**
 * Unit vectors spread evenly, n x 3: over the upper half sphere with its horizon when the mould stands on a board (nothing
 * moves down through it), over the whole sphere otherwise.
 *
 * They lie on circles of equal height, the horizon first, then upward (and, without a board, each circle below right after
 * the one above), the pole last. Neighbours are `stepDeg` apart or somewhat less. With a direction the grid also holds the
 * one of opposite azimuth and, without a board, the opposite one.
 */
export function directionGrid(standsOnBoard: boolean, stepDeg: number): Float32Array {
  if (!(stepDeg > 0 && stepDeg <= 90)) {
    throw new RangeError(`directionGrid: stepDeg is ${stepDeg}, expected a number above 0, at most 90.`);
  }
  const rings = Math.max(1, Math.ceil(90 / stepDeg - 1e-9));
  const out: number[] = [];
  for (let ring = 0; ring < rings; ring++) {
    const tilt = (ring / rings) * (Math.PI / 2);
    // An even number, so that opposite azimuths are both there.
    const count = 2 * Math.max(2, Math.ceil((180 * Math.cos(tilt)) / stepDeg - 1e-9));
    for (const sign of ring === 0 || standsOnBoard ? [1] : [1, -1]) {
      for (let i = 0; i < count; i++) {
        const azimuth = (2 * Math.PI * i) / count;
        out.push(
          Math.cos(tilt) * Math.cos(azimuth),
          Math.cos(tilt) * Math.sin(azimuth),
          sign * Math.sin(tilt),
        );
      }
    }
  }
  out.push(0, 0, 1);
  if (!standsOnBoard) out.push(0, 0, -1);
  return Float32Array.from(out);
}
