import type { MapPicture, PiecePicture } from '../../../jobs/protocol.ts';
import { type LevelPlace, levelPlaces } from '../levelPlaces.ts';
import type { MapBands } from './mapBands.ts';

/** Bands that pass within so much surface of one another bear no number between them, mm. Own choice. */
const NARROWEST_MM = 1.5;

/** Places for the numbers of a map's borders. */
export function* mapLabels(
  map: MapPicture,
  pieces: readonly Pick<PiecePicture, 'rubber'>[],
  { borders, least, most }: MapBands,
): Generator<void, readonly LevelPlace[]> {
  const band = (most - least) / (borders.length + 1);
  const places: LevelPlace[] = [];
  for (const [i, { corners }] of map.pieces.entries()) {
    if (pieces[i]?.rubber.indices.length !== corners.length) continue;
    places.push(
      ...(yield* levelPlaces(pieces[i].rubber, (corner) => corners[corner], borders, band / NARROWEST_MM)),
    );
  }
  return places;
}
