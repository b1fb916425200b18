/**
 * Strips of shim along one parting line of `lengthMm`, each laid over the one before by `overlapMm`: n strips reach
 * n (strip - overlap) + overlap. 0 for no length; null when the overlap takes the whole strip.
 */
export function countStrips(lengthMm: number, stripLengthMm: number, overlapMm: number): number | null {
  if (!(lengthMm > 0)) return 0;
  const reachMm = stripLengthMm - overlapMm;
  if (!(reachMm > 0)) return null;
  return Math.max(1, Math.ceil((lengthMm - overlapMm) / reachMm - ROUNDING));
}

/** A line that is longer than its strips by less than a millionth of one needs no further strip. */
const ROUNDING = 1e-6;
