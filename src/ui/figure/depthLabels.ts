import type { SurfacePicture, UndercutPicture } from '../../jobs/protocol.ts';
import { type LevelPlace, levelPlaces } from './levelPlaces.ts';

/** Where depth rises faster than this, mm for each mm of surface, lines run together and bear no label. */
const STEEPEST = 1.5;

/** Places on the lines of depth (levels, mm) where a number can stand, spread over the piece. */
export function depthLabels(
  rubber: SurfacePicture,
  undercut: UndercutPicture,
  levelsMm: readonly number[],
): Generator<void, readonly LevelPlace[]> {
  const { depthMm, kind } = undercut;
  const depthAt = (corner: number): number =>
    kind[Math.floor(corner / 3)] === 0 ? Number.NaN : depthMm[rubber.indices[corner]];
  return levelPlaces(rubber, depthAt, levelsMm, STEEPEST);
}
