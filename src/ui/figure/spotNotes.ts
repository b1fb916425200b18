import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { PieceResult, SpotResult } from '../../core/PlanResult.ts';
import { formatLength, formatVolume, type UnitSystem } from '../../core/units.ts';

/** Notes a piece, and in all: more leaders than these hide what they point at. */
const MOST_A_PIECE = 3;
const MOST = 6;

export interface SpotNote {
  readonly spots: readonly Vec3[];
  readonly lines: readonly [string, string];
}

/** What is led out to the worst spots that lock deeper than the rubber yields: the worst of each piece first. */
export function spotNotes(
  pieces: readonly Pick<PieceResult, 'undercut'>[],
  units: UnitSystem,
): readonly SpotNote[] {
  const worst: { readonly rank: number; readonly spot: SpotResult }[] = [];
  for (const { undercut } of pieces) {
    undercut?.spots
      .filter((spot) => !spot.isWithinGive)
      .slice(0, MOST_A_PIECE)
      .forEach((spot, rank) => {
        worst.push({ rank, spot });
      });
  }
  worst.sort((a, b) => a.rank - b.rank || b.spot.maxDepthMm - a.spot.maxDepthMm);
  return worst.slice(0, MOST).map(({ spot }) => ({
    spots: [spot.atMm],
    lines: [
      `${spot.id} locks ${formatLength(spot.maxDepthMm, units)}`,
      `${formatVolume(spot.fillerMm3, units)} of filler`,
    ],
  }));
}
