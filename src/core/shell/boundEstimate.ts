import { between, type CoatTable } from '../field/CoatTable.ts';
import type { Layer } from './boundVolume.ts';

/** What is wrong up to a layer's inside is mostly the same up to its outside; this share of it may not be. Own; tried on the fixtures. */
const UNSHARED = 0.15;

/**
 * Bound on |estimated - true| of each layer's volume, mm3: the doubt that the layer adds, and a share of what stands below it.
 *
 * @param doubted the estimate with its doubt added (`estimateTables`).
 */
export function boundEstimate(estimate: CoatTable, doubted: CoatTable, layers: readonly Layer[]): number[] {
  const doubtWithin = (fromMm: number, toMm: number): number =>
    between(doubted, fromMm, toMm)[0] - between(estimate, fromMm, toMm)[0];
  return layers.map(
    ({ fromMm, toMm }) => Math.abs(doubtWithin(fromMm, toMm)) + UNSHARED * Math.abs(doubtWithin(0, fromMm)),
  );
}
