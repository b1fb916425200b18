import type { Vec3 } from '../core/mesh/TriMesh.ts';
import type { LinePicture, PlanGeometry, SectionPicture } from '../jobs/protocol.ts';
import type {
  Aspect,
  PointerMode,
  ScreenPoint,
  ViewBox,
  ViewEvents,
  ViewShow,
  ViewTheme,
} from './viewTypes.ts';

/**
 * The mould standing on its board, drawn with three into a canvas that fills `host`. World frame = board frame: z up,
 * millimetres, board at z = 0. Draws only when something changed (there is no idle loop). `host` must have a size and
 * `position` other than static; the canvas is laid absolutely over it, and the ui's overlays go above the canvas.
 * The view listens to pointer and wheel on the canvas by itself; keys and buttons belong to the ui, which calls
 * `orbitBy`, `panBy`, `zoomBy`, `lookFrom`, `fit`.
 * Throws Error in the constructor when the browser gives no WebGL2.
 */
export class MouldView {
  constructor(host: HTMLElement, theme: ViewTheme, events: Partial<ViewEvents> = {}) {
    void host;
    void theme;
    void events;
  }

  /** Recolours everything; nothing else changes. */
  setTheme(_theme: ViewTheme): void {}

  /**
   * Shows an answer. `geometry.rubber === null` keeps the rubber shown before. A rubber of clearly other size is
   * framed anew; otherwise the camera stays. Ends any draft and any point override left from a drag.
   */
  setAnswer(_geometry: PlanGeometry): void {}

  /** Takes everything off the board. */
  clear(): void {}

  /** Slides each piece this many mm along its pull from where it belongs. 0: closed. */
  setApart(_mm: number): void {}

  /** Changes what is drawn; keys left out keep their value. Starts as rubber and lines on, shells and marks off. */
  setShow(_show: Partial<ViewShow>): void {}

  /** 'look': dragging orbits. 'draw': clicks on the rubber add points and control points can be dragged as well. */
  setMode(_mode: PointerMode): void {}

  /** True when draw mode can act now: a rubber is there, it is shown closed (apart 0) and without shells over it. */
  canDraw(): boolean {
    return false;
  }

  /**
   * The line being drawn, live. A draft with the id of a line of the answer stands in for it (same line index);
   * another id is a new line with index `lines.length`. null: none.
   */
  setDraft(_line: LinePicture | null): void {}

  /**
   * Cuts all bodies: the side that `plane.normal` points to is taken away, and the areas are laid filled on the cut
   * (coats in their tints with dark outlines, rubber hatched). null: whole again.
   */
  setSection(_picture: SectionPicture | null): void {}

  /** Turns the camera to one of the five views and frames the mould. Glides unless `animate` is false or the user wants less motion. */
  lookFrom(_aspect: Aspect, _animate = true): void {}

  /** Frames the mould from the present direction. */
  fit(_animate = true): void {}

  /** Turns the camera about its target. Radians; positive azimuth moves the camera counter-clockwise seen from above, positive polar lowers it. */
  orbitBy(_azimuthRad: number, _polarRad: number): void {}

  /** Moves the picture by CSS pixels, right and down positive. */
  panBy(_dxPx: number, _dyPx: number): void {}

  /** Zooms about the middle; factor > 1 comes nearer. */
  zoomBy(_factor: number): void {}

  /** Where a point of the board frame stands in the picture. */
  project(_point: Vec3): ScreenPoint {
    return { x: 0, y: 0, visible: false };
  }

  /** Size of the picture in mm for a length of one CSS pixel at the camera's target, for scale bars; 0 while empty. */
  mmPerPixel(): number {
    return 0;
  }

  /** Box of the whole rubber; null while empty. */
  bounds(): ViewBox | null {
    return null;
  }

  /** The present picture as PNG at two device pixels a CSS pixel, without the ui's overlays. */
  snapshot(): Promise<Blob> {
    return Promise.reject(new Error('There is nothing to save yet.'));
  }

  /** Asks for one more frame, e.g. after the host changed without a resize. */
  requestFrame(): void {}

  /** Frees the graphics memory, takes the canvas out, stops listening. */
  dispose(): void {}
}
