import type { SessionState } from '../../../session/SessionStore.ts';
import type { MouldView } from '../../../view/MouldView.ts';
import type { MapState } from '../../control/MapDrawer.ts';
import { sayPiece } from '../../sayPiece.ts';
import type { FigureSight } from '../FigureSight.ts';
import type { OverlayLabel } from '../overlayLayout.ts';
import type { PlaceFinder } from '../PlaceFinder.ts';
import { MapReader } from './MapReader.ts';
import { mapLabels } from './mapLabels.ts';
import { type MapModel, mapModel } from './mapModel.ts';
import { sayBorder, sayMapValue } from './mapWords.ts';

/** A border's number stands where the surface turns at least so much to the eye (cosine). Own choice. */
const LEAST_LABEL_FACING = 0.25;

/** Holds the map that the figure shows: lays it on the view, names its borders, reads it at a place. */
export class MapHand {
  private shown: MapModel | null = null;
  private key: readonly unknown[] = [];
  private reader: MapReader | null = null;
  private session: SessionState | null = null;

  constructor(private readonly finder: PlaceFinder) {}

  /** The map in sight; null: none is chosen, it has not come, or something lies over it. */
  get model(): MapModel | null {
    return this.shown;
  }

  /** Lays the newest map on the view, or takes it off. */
  show(view: MouldView | null, session: SessionState, { picture }: MapState, sight: FigureSight): void {
    this.session = session;
    const { answer, plan, prefs } = session;
    const isInSight = answer !== null && picture !== null && sight.isMapChosen;
    const key = isInSight
      ? [
          picture,
          answer.geometry.pieces,
          prefs.mapRanges,
          prefs.units,
          plan.leastThicknessMm,
          plan.parting.rubberGiveMm,
        ]
      : [];
    const isSame = key.length === this.key.length && key.every((one, i) => one === this.key[i]);
    if (!isSame) {
      this.key = key;
      this.shown = isInSight ? mapModel(picture, prefs.mapRanges, plan, prefs.units) : null;
      this.reader = this.shown && answer ? new MapReader(this.shown.picture, answer.geometry.pieces) : null;
    }
    const { shown } = this;
    if (shown === null) {
      view?.setMap(null, null);
      return;
    }
    const { least, most } = shown.bands;
    const span = Math.max(most - least, 1e-3);
    view?.setMap(
      shown.picture.pieces.map(({ corners }) => ({ corners, least: least - span, most: most + span })),
      shown.look,
    );
  }

  /** Numbers of the borders, those of what needs something done first. */
  labels(view: MouldView): OverlayLabel[] {
    const { shown, session } = this;
    const pieces = session?.answer?.geometry.pieces;
    if (shown === null || !session || !pieces) return [];
    const { picture, bands } = shown;
    const places = this.finder
      .places(picture, bands.borders.join(' '), () => mapLabels(picture, pieces, bands))
      .filter(({ normal }) => view.facing(normal) > LEAST_LABEL_FACING);
    const isDeepFirst = picture.of === 'undercut';
    places.sort((a, b) => (isDeepFirst ? b.level - a.level : a.level - b.level));
    return places.map(({ level, at }) => ({ at, text: sayBorder(picture.of, level, session.prefs.units) }));
  }

  /** What the map says at a place of the picture, in words with unit; null off the rubber. */
  read(view: MouldView, xPx: number, yPx: number): string | null {
    const { shown, reader, session } = this;
    if (shown === null || reader === null || session === null) return null;
    for (const { piece, hit } of view.rubberAt(xPx, yPx)) {
      const reading = reader.read(hit.point, hit.tri, piece);
      if (reading === null) continue;
      const told = sayMapValue(shown.picture.of, reading.value, session.prefs.units);
      const named = session.answer?.result.pieces[reading.piece];
      return session.prefs.stage === 'scan' || !named ? told : `${told}, ${sayPiece(named)}`;
    }
    return null;
  }
}
