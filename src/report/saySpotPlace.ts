import type { ThinSpotResult } from '../core/PlanResult.ts';
import { formatLength, type UnitSystem } from '../core/units.ts';

const SIDE_WORDS: Readonly<Record<ThinSpotResult['side'], string>> = {
  front: 'front',
  right: 'right side',
  back: 'back',
  left: 'left side',
  top: 'top',
  underside: 'underside',
};

/** "left side, 212 mm up": which way the spot faces and how high over the board it is. */
export function saySpotPlace(
  { side, aboveBoardMm }: Pick<ThinSpotResult, 'side' | 'aboveBoardMm'>,
  system: UnitSystem,
): string {
  return `${SIDE_WORDS[side]}, ${formatLength(aboveBoardMm, system)} up`;
}
