import { formatLength, type UnitSystem } from '../../../core/units.ts';
import type { SectionPicture } from '../../../jobs/protocol.ts';
import type { SessionState } from '../../../session/SessionStore.ts';
import type { MouldView } from '../../../view/MouldView.ts';
import { sayPiece } from '../../sayPiece.ts';
import type { OverlayNote } from '../overlayLayout.ts';
import { circlePath, type SketchShape } from '../sketch/Sketch.ts';
import { coatSpots, firstRuler } from './coatSpots.ts';
import { type CutPlace, coatAt, meetCut, placeOnBoard } from './cutPlace.ts';
import type { RulerEvent } from './RulerEvent.ts';
import type { RulerEnd } from './SectionRuler.ts';

/** What one press of an arrow key moves an end by, mm: half a millimetre, or a thirty-second of an inch. */
const STEP_MM: Readonly<Record<UnitSystem, number>> = { metric: 0.5, us: 25.4 / 32 };

/** What is read and measured on the face of a cut: the coat under the pointer, the coats' names, a ruler. */
export class SectionHand {
  private ruler: readonly [CutPlace, CutPlace] | null = null;
  private shown: SectionPicture | null = null;
  private spots: ReturnType<typeof coatSpots> = [];

  /** Takes a new cut. A ruler stays where it lies on planes of the same kind, and begins anew on others. */
  take(section: SectionPicture | null, coatCount: number): void {
    if (section === this.shown) return;
    const isOther =
      section === null ||
      this.shown === null ||
      section.plane.normal.some((x, k) => x !== this.shown?.plane.normal[k]);
    if (isOther) this.ruler = null;
    this.shown = section;
    this.spots = section ? coatSpots(section, coatCount) : [];
  }

  /** Names of the coats and what each is to be, led out from the cut. */
  notes({ plan, prefs }: SessionState): OverlayNote[] {
    const section = this.shown;
    if (section === null) return [];
    return this.spots.flatMap(({ coat, at }) => {
      const planned = plan.coats[coat];
      if (!planned) return [];
      return [
        {
          spots: [placeOnBoard(section, at)],
          lines: [planned.name, formatLength(planned.thicknessMm, prefs.units)] as const,
        },
      ];
    });
  }

  /** The coat at a place of the picture, in words: "Build, 2.5 mm, A front"; null off the cut. */
  read(view: MouldView, xPx: number, yPx: number, { plan, answer, prefs }: SessionState): string | null {
    const section = this.shown;
    if (section === null) return null;
    const place = meetCut(section, view.rayAt(xPx, yPx));
    const area = place && coatAt(section, place);
    if (!area) return null;
    if (area.coat < 0) return 'rubber';
    const planned = plan.coats[area.coat];
    if (!planned) return null;
    const piece = answer?.result.pieces[area.piece];
    const told = `${planned.name}, ${formatLength(planned.thicknessMm, prefs.units)}`;
    return piece ? `${told}, ${sayPiece(piece)}` : told;
  }

  /** Length of the ruler, in words. */
  sayRuler(units: UnitSystem): string {
    const ruler = this.rulerNow();
    return ruler ? formatLength(Math.hypot(ruler[1][0] - ruler[0][0], ruler[1][1] - ruler[0][1]), units) : '';
  }

  /** Its ends in the picture. */
  rulerEnds(view: MouldView): readonly [RulerEnd, RulerEnd] | null {
    const ruler = this.rulerNow();
    const section = this.shown;
    if (!ruler || !section) return null;
    const [a, b] = ruler.map((place) => view.project(placeOnBoard(section, place)));
    return [a, b];
  }

  /** The ruler as it is drawn. */
  rulerShapes(view: MouldView, units: UnitSystem): SketchShape[] {
    const ends = this.rulerEnds(view);
    if (!ends) return [];
    const [a, b] = ends;
    return [
      { kind: 'path', d: `M${a.x} ${a.y}L${b.x} ${b.y}`, stroke: '--paper', widthPx: 5 },
      { kind: 'path', name: 'ruler', d: `M${a.x} ${a.y}L${b.x} ${b.y}`, stroke: '--accent', widthPx: 2 },
      ...ends.map(
        ({ x, y }): SketchShape => ({
          kind: 'path',
          d: circlePath(x, y, 4),
          fill: '--paper',
          stroke: '--accent',
          widthPx: 2,
        }),
      ),
      {
        kind: 'text',
        name: 'ruler',
        x: (a.x + b.x) / 2,
        y: Math.min(a.y, b.y) - 22,
        text: this.sayRuler(units),
        ink: '--accent',
        sizePx: 17,
        anchor: 'middle',
        haloPx: 5,
      },
    ];
  }

  /** Moves an end as the event says; true when it moved. */
  move(view: MouldView, { end, x, y, steps }: RulerEvent, units: UnitSystem): boolean {
    const ruler = this.rulerNow();
    const section = this.shown;
    if (!ruler || !section) return false;
    const [u, v] = ruler[end];
    const to: CutPlace | null = steps
      ? [u + steps[0] * this.rightSign(view) * STEP_MM[units], v + steps[1] * STEP_MM[units]]
      : meetCut(section, view.rayAt(x, y));
    if (to === null) return false;
    this.ruler = end === 0 ? [to, ruler[1]] : [ruler[0], to];
    return true;
  }

  /** 1 when the cut's first axis runs to the right on the screen, -1 when to the left: keys move as the eye sees. */
  private rightSign(view: MouldView): 1 | -1 {
    const section = this.shown;
    if (!section) return 1;
    const from = view.project(placeOnBoard(section, [0, 0]));
    const to = view.project(placeOnBoard(section, [1, 0]));
    return to.x >= from.x ? 1 : -1;
  }

  private rulerNow(): readonly [CutPlace, CutPlace] | null {
    if (this.ruler === null && this.shown) this.ruler = firstRuler(this.shown);
    return this.ruler;
  }
}
