import type { PieceResult, ThinSpotResult } from '../../core/PlanResult.ts';
import { formatLength, type UnitSystem } from '../../core/units.ts';
import { sayRidgeMass } from '../../report/sayRidgeMass.ts';
import type { OverlayNote } from './overlayLayout.ts';

/** Notes a piece, and in all: more leaders than these hide what they point at. */
const MOST_A_PIECE = 3;
const MOST = 6;
/** A spot that less than this would mend, g, is listed in the panel and not led out: nobody mixes half a gram. Own choice. */
const LEAST_RIDGE_G = 0.5;

/** What is led out to the spots that lack most: those of each piece in turn. What reads as thick as the least, mm, or is mended by a dab, needs no note. */
export function thinNotes(
  pieces: readonly Pick<PieceResult, 'thin'>[],
  units: UnitSystem,
  leastMm: number,
): readonly OverlayNote[] {
  const worst: { readonly rank: number; readonly spot: ThinSpotResult }[] = [];
  const least = formatLength(leastMm, units);
  for (const { thin } of pieces) {
    const told = (thin?.spots ?? []).filter(
      ({ minMm, massG }) => formatLength(minMm, units) !== least && massG >= LEAST_RIDGE_G,
    );
    told.slice(0, MOST_A_PIECE).forEach((spot, rank) => {
      worst.push({ rank, spot });
    });
  }
  worst.sort((a, b) => a.rank - b.rank || b.spot.lackMm3 - a.spot.lackMm3);
  return worst.slice(0, MOST).map(({ spot }) => ({
    spots: [spot.pointMm],
    lines: [
      `${spot.id} thin, ${formatLength(spot.minMm, units)}`,
      `${sayRidgeMass(spot.massG, units)} of ridge coat`,
    ],
  }));
}
