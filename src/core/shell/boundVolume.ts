/**
 * How far a volume of the fine field may be off, from the same volume on a field of twice the cell.
 *
 * The error falls at least with the square of the cell on smooth parts and with the cell on kinks, so the difference of
 * the two is at least the fine one's error; the two may agree by chance, so half of the largest difference among the
 * coats of the same piece is added. Own; tried against shapes with exact answers in test/published.
 */
const SHARED_SHARE = 0.5;

/** Rounding of distances and of the reading between knots, share of the volume. */
const FLOOR_SHARE = 2e-5;

/**
 * Bound on |fine - true| for every entry, mm3.
 *
 * @param fine volumes that belong together (the coats of a piece), mm3.
 * @param coarse the same volumes on the coarse field.
 */
export function boundVolumes(fine: readonly number[], coarse: readonly number[]): number[] {
  const differences = fine.map((volume, n) => Math.abs(volume - coarse[n]));
  const shared = SHARED_SHARE * Math.max(0, ...differences);
  return fine.map((volume, n) => differences[n] + shared + FLOOR_SHARE * volume);
}
