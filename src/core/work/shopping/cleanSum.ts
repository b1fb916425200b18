/**
 * Sums of weights and prices are kept to this part of a gram or of the currency: what lies below is rounding of
 * Float64.
 */
const PARTS = 1e6;

/** A sum of weights or prices without the noise of adding: 57.3, not 57.300000000000004. */
export function cleanSum(value: number): number {
  return Math.round(value * PARTS) / PARTS;
}
