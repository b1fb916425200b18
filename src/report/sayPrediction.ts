import { formatLength, type UnitSystem } from '../core/units.ts';

/** What the predicted thickness rests on; `levelledByMm`: radius of the trowel, null when the last coat is left as brushed. */
export function sayPrediction(levelledByMm: number | null, system: UnitSystem): string {
  const last =
    levelledByMm === null
      ? 'the last coat left as brushed'
      : `the finish levelled with a trowel of ${formatLength(levelledByMm, system)} radius`;
  return `Predicted for coats spread evenly by weight, ${last}: a ridge draws thin, a hollow fills. Probe the shell itself.`;
}
