import { formatLength, type UnitSystem } from '../../core/units.ts';

const MM_PER_INCH = 25.4;
/** Round lengths that a bar may have, mm and inches. */
const METRIC_MM = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000];
const US_MM = [1 / 32, 1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 4, 6, 12, 24, 36, 72].map(
  (inches) => inches * MM_PER_INCH,
);
/** A bar takes no more of the picture's width than this. */
const MOST_SHARE = 0.3;

/** The longest round length that fits: its length in the picture's pixels and how it is written. */
export function scaleBar(
  mmPerPx: number,
  widthPx: number,
  system: UnitSystem,
): { readonly lengthPx: number; readonly text: string } {
  const roomMm = MOST_SHARE * widthPx * mmPerPx;
  const lengths = system === 'us' ? US_MM : METRIC_MM;
  const lengthMm = lengths.findLast((length) => length <= roomMm) ?? lengths[0];
  return { lengthPx: lengthMm / mmPerPx, text: sayRound(lengthMm, system) };
}

/** A round length: its usual decimals would claim more than a bar shows. */
function sayRound(lengthMm: number, system: UnitSystem): string {
  if (system === 'us') return formatLength(lengthMm, system);
  return lengthMm >= 1000 ? `${lengthMm / 1000} m` : `${lengthMm} mm`;
}
