import type { ThinSpotResult } from '../core/PlanResult.ts';
import { formatLength, type UnitSystem } from '../core/units.ts';

const SIDE_WORDS: Readonly<Record<ThinSpotResult['side'], string>> = {
  front: 'faces front',
  right: 'faces right',
  back: 'faces back',
  left: 'faces left',
  top: 'faces up',
  underside: 'faces down',
};

/** "faces left, 212 mm up": which way the spot faces, which need not be the side of the mould it is on, and how high over the board it is. */
export function saySpotPlace(
  { side, aboveBoardMm }: Pick<ThinSpotResult, 'side' | 'aboveBoardMm'>,
  system: UnitSystem,
): string {
  return `${SIDE_WORDS[side]}, ${formatLength(aboveBoardMm, system)} up`;
}
