import type { Box, Vec3 } from '../../core/mesh/TriMesh.ts';
import { groupDigits } from '../../core/units.ts';
import type { ScaleFigure } from './scaleFigures.ts';

/** CSS pixels from the figure's upper left corner. */
interface Place {
  readonly x: number;
  readonly y: number;
}

/** What is laid over the picture to set the mould up by. */
export interface AidsPicture {
  /** The handle of a board or a plane, and which way it slides on the screen (length 1; null: end on). */
  readonly handle: { readonly at: Place; readonly way: Place | null; readonly text: string } | null;
  /** The stretch between two points measured; `to` follows the pointer until the second point is set. */
  readonly measure: {
    readonly from: Place;
    readonly to: Place;
    /** The second point is not set yet. */
    readonly isLive: boolean;
    /** Baseline of the length: beside a steep stretch, its middle above a flat one. */
    readonly words: Place & { readonly anchor: 'start' | 'middle' | 'end' };
    readonly text: string;
  } | null;
  /** A hand or a person beside the mould: foot in the middle, height and width, px. */
  readonly scale: {
    readonly figure: ScaleFigure;
    readonly foot: Place;
    readonly heightPx: number;
    readonly widthPx: number;
    /** It would not fit into the picture, and is only spoken of. */
    readonly isTooTall: boolean;
    /** The middle of the words' baseline. */
    readonly words: Place;
    readonly text: string;
  } | null;
}

export interface AidsScene {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly project: (point: Vec3) => Place;
  readonly mmPerPixel: number;
  /** The camera's axis to the right in the picture, board frame, length 1 and level. */
  readonly right: Vec3;
  readonly box: Box;
  readonly sayLength: (mm: number) => string;
  readonly handle: { readonly at: Vec3; readonly axis: Vec3; readonly text: string } | null;
  readonly measure: { readonly from: Vec3; readonly to: Vec3; readonly isLive: boolean } | null;
  readonly figure: ScaleFigure | null;
}

/** Between mould and figure, px; and what is kept free at the picture's edge. Own choice. */
const GAP_PX = 36;
/** A picture narrower than this, px, has room for the figure's name only, and for half the gap. Own choice. */
const ROOMY_PX = 560;
const EDGE_PX = 14;
/** Room for the words under it, px. */
const WORDS_PX = 150;
const NAME_PX = 60;
/** The buttons that stand over the picture's right edge, px. */
const TOOLS_PX = 66;
/** From a measured stretch to its length, px; a slanting one passes under words that are wider than they stand high. */
const STRETCH_PX = 16;
const STRETCH_RISE = 0.5;
/** About so wide is a letter of a length, px: only to tell where there is room. */
const LETTER_PX = 9.5;
/** From the head of a hand or person up to its words, and from the foot down to them, px. */
const ABOVE_PX = 10;
const BELOW_PX = 20;
/** Taller than this share of the picture it is only spoken of: it would be lines without a shape. Own choice. */
const TALLEST_SHARE = 0.95;
/** Seen from so steeply above that it would show less than this of its height, a standing figure says nothing. */
const LEAST_UPRIGHT = 0.3;
/** Smaller than this it is a speck, px: it is then left to its words. */
const LEAST_PX = 3;

export function layOutAids(scene: AidsScene): AidsPicture {
  return { handle: placeHandle(scene), measure: placeMeasure(scene), scale: placeScale(scene) };
}

function placeHandle({ handle, project, mmPerPixel }: AidsScene): AidsPicture['handle'] {
  if (handle === null) return null;
  const at = project(handle.at);
  const reachMm = 100 * mmPerPixel;
  const [x, y, z] = handle.at;
  const tip = project([
    x + reachMm * handle.axis[0],
    y + reachMm * handle.axis[1],
    z + reachMm * handle.axis[2],
  ]);
  const length = Math.hypot(tip.x - at.x, tip.y - at.y);
  const way = length < 15 ? null : { x: (tip.x - at.x) / length, y: (tip.y - at.y) / length };
  return { at, way, text: handle.text };
}

function placeMeasure({ measure, project, sayLength, widthPx }: AidsScene): AidsPicture['measure'] {
  if (measure === null) return null;
  const { from, to, isLive } = measure;
  const mm = Math.hypot(to[0] - from[0], to[1] - from[1], to[2] - from[2]);
  const a = project(from);
  const b = project(to);
  const text = sayLength(mm);
  return { from: a, to: b, isLive, words: besideStretch(a, b, text.length * LETTER_PX, widthPx), text };
}

/** Where a length can be read clear of its own stretch: above a flat one, beside a steep one, to the right where there is room. */
function besideStretch(
  a: Place,
  b: Place,
  longPx: number,
  widthPx: number,
): NonNullable<AidsPicture['measure']>['words'] {
  const x = (a.x + b.x) / 2;
  const y = (a.y + b.y) / 2;
  if (Math.abs(b.y - a.y) <= Math.abs(b.x - a.x) / 2)
    return { x, y: y - STRETCH_PX - STRETCH_RISE * Math.abs(b.y - a.y), anchor: 'middle' };
  return x + STRETCH_PX + longPx < widthPx - TOOLS_PX
    ? { x: x + STRETCH_PX, y: y + 6, anchor: 'start' }
    : { x: x - STRETCH_PX, y: y + 6, anchor: 'end' };
}

/** "3 times", "600 times". */
function sayTimes(times: number): string {
  const rounded = Number(times.toPrecision(times < 10 ? 2 : 1));
  return `${groupDigits(String(rounded))} times`;
}

/** Stands on the board to the right of the mould, as far from the eye as its middle; held inside the picture. */
function placeScale({ figure, box, right, project, mmPerPixel, ...scene }: AidsScene): AidsPicture['scale'] {
  if (figure === null || !(mmPerPixel > 0)) return null;
  const { min, max } = box;
  const middle: Vec3 = [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2, 0];
  const halfMm = (Math.abs(right[0]) * (max[0] - min[0]) + Math.abs(right[1]) * (max[1] - min[1])) / 2;
  const widthMm = figure.widthShare * figure.heightMm;
  const isRoomy = scene.widthPx >= ROOMY_PX;
  const awayMm = halfMm + widthMm / 2 + (isRoomy ? GAP_PX : GAP_PX / 2) * mmPerPixel;
  const at: Vec3 = [middle[0] + awayMm * right[0], middle[1] + awayMm * right[1], 0];
  const foot = project(at);
  const heightPx = foot.y - project([at[0], at[1], figure.heightMm]).y;
  const fullPx = figure.heightMm / mmPerPixel;
  if (heightPx < LEAST_UPRIGHT * fullPx || heightPx < LEAST_PX) return null;
  const widthPx = widthMm / mmPerPixel;
  const isTooTall = heightPx > TALLEST_SHARE * scene.heightPx;
  const wordsPx = isRoomy || isTooTall ? WORDS_PX : NAME_PX;
  const halfPx = (isTooTall ? wordsPx : Math.max(widthPx, wordsPx)) / 2;
  const x = Math.max(EDGE_PX + halfPx, Math.min(foot.x, scene.widthPx - TOOLS_PX - halfPx));
  // Above the head, where the board's edge does not cross them.
  const isRoomAbove = !isTooTall && foot.y - heightPx > ABOVE_PX + BELOW_PX;
  // Words wider than the figure stand out on its far side, not over the mould, as far as there is room.
  const outPx = isTooTall ? 0 : Math.max(0, wordsPx - widthPx) / 2;
  const words = {
    x: Math.max(x, Math.min(x + outPx, scene.widthPx - TOOLS_PX - wordsPx / 2)),
    y: isRoomAbove ? foot.y - heightPx - ABOVE_PX : foot.y + BELOW_PX,
  };
  const said = `${figure.name}, ${scene.sayLength(figure.heightMm)}`;
  return {
    figure,
    foot: { x, y: foot.y },
    heightPx,
    widthPx,
    isTooTall,
    words,
    text: isTooTall
      ? `${said}: ${sayTimes(figure.heightMm / Math.max(max[2], 1e-9))} as tall`
      : isRoomy
        ? said
        : figure.name,
  };
}
