/** Of a share this small it is rounding, not another batch. */
const ROUNDING = 1e-9;

/** How many batches of at most `mostLaidG` a coat takes. At least 1. */
export function countBatches(toLayG: number, mostLaidG: number): number {
  return Math.max(1, Math.ceil((toLayG / mostLaidG) * (1 - ROUNDING)));
}

/** Equal batches; they sum to `toLayG`. */
export function equalShares(toLayG: number, count: number): number[] {
  return Array.from({ length: count }, () => toLayG / count);
}

/** Full batches and a rest at the end, which is above 0; they sum to `toLayG`. */
export function fullShares(toLayG: number, mostLaidG: number): number[] {
  const count = countBatches(toLayG, mostLaidG);
  const shares = Array.from({ length: count }, () => mostLaidG);
  shares[count - 1] = toLayG - mostLaidG * (count - 1);
  return shares;
}
