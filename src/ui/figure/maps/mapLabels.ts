import type { MapPicture, PiecePicture } from '../../../jobs/protocol.ts';
import { type LevelPlace, levelPlaces } from '../levelPlaces.ts';
import type { MapBands } from './mapBands.ts';

/** Bands that pass within so much surface of one another bear no number between them, mm. Own choice. */
const NARROWEST_MM = 1.5;

const known = new WeakMap<MapPicture, { readonly key: string; readonly places: readonly LevelPlace[] }>();

/** Places for the numbers of a map's borders; kept as long as the map lives. */
export function mapLabels(
  map: MapPicture,
  pieces: readonly Pick<PiecePicture, 'rubber'>[],
  { borders, least, most }: MapBands,
): readonly LevelPlace[] {
  const key = borders.join(' ');
  const kept = known.get(map);
  if (kept?.key === key) return kept.places;
  const band = (most - least) / (borders.length + 1);
  const places = map.pieces.flatMap(({ corners }, i) =>
    pieces[i] && pieces[i].rubber.indices.length === corners.length
      ? levelPlaces(pieces[i].rubber, (corner) => corners[corner], borders, band / NARROWEST_MM)
      : [],
  );
  known.set(map, { key, places });
  return places;
}
