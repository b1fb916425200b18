import type { PlanDocument } from '../../../core/plan/PlanDocument.ts';
import type { UnitSystem } from '../../../core/units.ts';
import type { MapPicture } from '../../../jobs/protocol.ts';
import { type MapRanges, OWN_RANGE } from '../../../session/mapPrefs.ts';
import type { MapLook } from '../../../view/viewTypes.ts';
import { type MapBands, mapBands } from './mapBands.ts';
import { mapColours } from './mapColours.ts';

/** A map as it is drawn: what the view needs, and what the legend says of it. */
export interface MapModel {
  readonly picture: MapPicture;
  readonly bands: MapBands;
  readonly look: MapLook;
}

/** Undercuts shallower than this are the map's own grain, mm. */
const GRAIN_MM = 0.05;

/** Bands, colours and the judged value of a map. Null when it tells nothing. */
export function mapModel(
  picture: MapPicture,
  ranges: MapRanges,
  plan: PlanDocument,
  units: UnitSystem,
): MapModel | null {
  const { of } = picture;
  const range = ranges[of] ?? OWN_RANGE;
  const laid = picture.coat === null ? plan.coats : plan.coats.slice(0, picture.coat + 1);
  const laidMm = laid.reduce((sum, { thicknessMm }) => sum + thicknessMm, 0);
  const bands = mapBands(of, picture.spread, range, units, laidMm);
  if (bands === null) return null;
  const isTyped = range.least !== null || range.most !== null;
  return {
    picture,
    bands,
    look: {
      borders: bands.borders,
      colours: mapColours(of, bands, isTyped),
      ...judgedOf(picture, bands, plan),
    },
  };
}

/** The value that a map is judged by, and the side of it that wants something done. */
function judgedOf(
  { of, coat }: MapPicture,
  { borders }: MapBands,
  plan: PlanDocument,
): Pick<MapLook, 'judged' | 'hatch'> {
  switch (of) {
    case 'thickness': {
      // What is asked of the whole shell says nothing of its first coats.
      if (coat !== null) return { judged: null, hatch: null };
      const at = plan.leastThicknessMm;
      return { judged: at, hatch: { at, side: 'below' } };
    }
    case 'undercut': {
      const at = plan.parting.rubberGiveMm;
      return { judged: at > 0 ? at : null, hatch: { at: Math.max(at, GRAIN_MM), side: 'above' } };
    }
    case 'draft':
      return { judged: 0, hatch: { at: 0, side: 'below' } };
    case 'distance': {
      const at = borders.filter((mm) => mm < 0).at(-1);
      return { judged: null, hatch: at === undefined ? null : { at, side: 'below' } };
    }
  }
}
