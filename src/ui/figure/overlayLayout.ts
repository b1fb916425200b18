import type { Box, Vec3 } from '../../core/mesh/TriMesh.ts';
import type { ScreenPoint } from '../../view/viewTypes.ts';

/** Distances of the drawing's furniture, CSS pixels. */
const DIMENSION_GAP_PX = 34;
const NOTE_GAP_PX = 58;
const NOTE_WIDTH_PX = 118;
/** About so wide is a letter of a note; a note longer than usual gets more room by it. */
const LETTER_PX = 7.8;
const NOTE_HEIGHT_PX = 46;
/** From a note's first baseline down to the foot of its second line, and up to the head of its first. */
const NOTE_LINES_PX = 26;
const NOTE_RISE_PX = 20;
const MARGIN_PX = 14;
/** The zoom buttons' corner, upper right: notes there begin so much farther left. */
const ZOOM_WIDTH_PX = 58;
const ZOOM_HEIGHT_PX = 214;
const ARROW_PX = 72;
/** A pull shorter than this share of its true length on the screen points at or away from the eye. */
const END_ON_SHARE = 0.35;
/** Numbers on the mould keep this distance from one another, and there are no more than these. */
const LABEL_ROOM_PX = 46;
const MOST_LABELS = 14;
const POINT_ROOM_PX = 18;
/** From the middle of a ringed number to the middle of a label beside it. */
const RING_ROOM_PX = 30;
/** Radius of a ringed number with a little air. */
const RING_PX = 14;
/** Nice lengths of a scale bar, mm: 1, 2, 5 and their tens; the bar is the longest not above this many pixels. */
const SCALE_BAR_MAX_PX = 130;

export interface OverlayPiece {
  readonly name: string;
  readonly pull: Vec3;
  readonly spots: readonly Vec3[];
  /** Two lines of the note: what, and its bound. */
  readonly lines: readonly [string, string];
}

/** Words led out to a spot on the mould: to the one in sight that lies nearest to the middle of those in sight. */
export interface OverlayNote {
  readonly spots: readonly Vec3[];
  readonly lines: readonly [string, string];
}

/** A number that stands on the mould itself, in the order of importance. */
export interface OverlayLabel {
  readonly at: Vec3;
  readonly text: string;
}

export interface OverlayInput {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly box: Box;
  readonly pieces: readonly OverlayPiece[];
  /** What is led out; left out: the notes of the pieces. Notes that find no spot in sight are not shown. */
  readonly notes?: readonly OverlayNote[];
  readonly labels?: readonly OverlayLabel[];
  /** Points that labels keep away from. */
  readonly points?: readonly Vec3[];
  /** Where ringed numbers stand in the picture: labels and notes keep clear of them. */
  readonly rings?: readonly { readonly x: number; readonly y: number }[];
  readonly mmPerPixel: number;
  readonly project: (point: Vec3) => ScreenPoint;
  readonly sayLength: (mm: number) => string;
  /** Lengths that make a good scale bar, mm, rising. */
  readonly barLengthsMm: readonly number[];
}

interface Xy {
  readonly x: number;
  readonly y: number;
}

export interface OverlayPicture {
  readonly height: null | {
    readonly x: number;
    readonly top: Xy;
    readonly bottom: Xy;
    readonly text: string;
  };
  readonly notes: readonly {
    readonly side: 'left' | 'right';
    readonly at: Xy;
    readonly spot: Xy;
    readonly lines: readonly [string, string];
  }[];
  readonly pulls: readonly {
    readonly piece: number;
    /** 'level': an arrow from `from` to `to`; 'toward' and 'away': a point or a cross in a ring, at `to`. */
    readonly kind: 'arrow' | 'toward' | 'away';
    readonly from: Xy;
    readonly to: Xy;
    readonly text: string;
  }[];
  readonly labels: readonly (Xy & { readonly text: string })[];
  readonly bar: null | {
    readonly x: number;
    readonly y: number;
    readonly lengthPx: number;
    readonly text: string;
  };
}

/** The box that holds the mould and its pieces slid `mm` along their pulls. */
export function slidApart(box: Box, mm: number, pulls: readonly Vec3[]): Box {
  const reach = (k: 0 | 1 | 2, pick: (...values: number[]) => number) =>
    mm * pick(0, ...pulls.map((p) => p[k]));
  return {
    min: [box.min[0] + reach(0, Math.min), box.min[1] + reach(1, Math.min), box.min[2]],
    max: [box.max[0] + reach(0, Math.max), box.max[1] + reach(1, Math.max), box.max[2]],
  };
}

/** Lays the drawing's furniture round the mould as it stands in the picture. Pure: only `project` is asked for places. */
export function layOutOverlay(input: OverlayInput): OverlayPicture {
  const corners = boxCorners(input.box).map(input.project);
  const left = Math.min(...corners.map((c) => c.x));
  const right = Math.max(...corners.map((c) => c.x));
  const isRoomy = input.widthPx >= 560;
  const height = layOutHeight(input, left, isRoomy);
  return {
    height,
    notes: isRoomy ? layOutNotes(input, left, right, height) : [],
    // On a phone the legend and the panel's rose say it; here there is no room for words.
    pulls: isRoomy ? layOutPulls(input, left, right) : [],
    labels: layOutLabels(input),
    bar: isRoomy ? layOutBar(input) : null,
  };
}

/** Numbers on the mould that are in sight and leave one another room. */
function layOutLabels(input: OverlayInput): OverlayPicture['labels'] {
  const placed: OverlayPicture['labels'][number][] = [];
  const points = input.labels && input.points ? input.points.map(input.project) : [];
  for (const { at, text } of input.labels ?? []) {
    if (placed.length === MOST_LABELS) break;
    const { x, y, visible } = input.project(at);
    const isNear = (one: Xy, roomPx: number) => Math.hypot(one.x - x, one.y - y) < roomPx;
    if (!visible || placed.some((one) => isNear(one, LABEL_ROOM_PX))) continue;
    if (points.some((one) => one.visible && isNear(one, POINT_ROOM_PX))) continue;
    if (input.rings?.some((one) => isNear(one, RING_ROOM_PX))) continue;
    placed.push({ x, y, text });
  }
  return placed;
}

function layOutHeight(input: OverlayInput, left: number, isRoomy: boolean): OverlayPicture['height'] {
  const { box, project } = input;
  const middleX = (box.min[0] + box.max[0]) / 2;
  const middleY = (box.min[1] + box.max[1]) / 2;
  const top = project([middleX, middleY, box.max[2]]);
  const bottom = project([middleX, middleY, 0]);
  // From above the height is end-on and its line would lie about the true length.
  if (bottom.y - top.y < 60) return null;
  // Seen from near, a dimension without its ends says nothing.
  if (top.y < 0 || bottom.y > input.heightPx) return null;
  const beside = left - DIMENSION_GAP_PX - (isRoomy ? NOTE_WIDTH_PX : 0);
  return { x: Math.max(MARGIN_PX + 26, beside), top, bottom, text: input.sayLength(box.max[2]) };
}

function layOutNotes(
  input: OverlayInput,
  left: number,
  right: number,
  height: OverlayPicture['height'],
): OverlayPicture['notes'] {
  const dimensionX = height?.x ?? 0;
  const middle = (left + right) / 2;
  const placed: { side: 'left' | 'right'; spot: Xy; lines: readonly [string, string] }[] = [];
  const place = ({ spots, lines }: OverlayNote): void => {
    const seen = spots.map(input.project).filter((s) => s.visible);
    if (seen.length === 0) return;
    const spot = nearestToMiddle(seen);
    placed.push({ side: spot.x < middle ? 'left' : 'right', spot, lines });
  };
  input.notes?.forEach(place);
  if (placed.length === 0) input.pieces.forEach(place);
  // Two pieces on one side read better led out to both, as long as one of them lies nearer to the other side.
  if (placed.length === 2 && placed[0].side === placed[1].side) {
    const [a, b] = placed;
    const nearer = a.spot.x < b.spot.x ? a : b;
    const farther = nearer === a ? b : a;
    nearer.side = 'left';
    farther.side = 'right';
  }
  const longest = Math.max(0, ...placed.flatMap((note) => note.lines.map((line) => line.length)));
  const widthPx = Math.max(NOTE_WIDTH_PX, longest * LETTER_PX);
  const xLeft = Math.max(dimensionX + 12 + widthPx, left - NOTE_GAP_PX);
  const xRight = Math.min(input.widthPx - MARGIN_PX - widthPx, right + NOTE_GAP_PX);
  const out: OverlayPicture['notes'][number][] = [];
  for (const side of ['left', 'right'] as const) {
    let floor = MARGIN_PX + 20;
    const column = placed.filter((n) => n.side === side).sort((a, b) => a.spot.y - b.spot.y);
    for (const note of column) {
      let y = Math.min(input.heightPx - NOTE_HEIGHT_PX, Math.max(floor, note.spot.y - 40));
      // The dimension's upper line runs across the left column; words on it could not be read.
      const line = height?.top.y ?? Infinity;
      if (side === 'left' && y > line - NOTE_LINES_PX && y < line + NOTE_RISE_PX) y = line + NOTE_RISE_PX;
      const reach = side === 'left' ? [xLeft - widthPx, xLeft] : [xRight, xRight + widthPx];
      for (const ring of [...(input.rings ?? [])].sort((a, b) => a.y - b.y)) {
        const isAcross = ring.x + RING_PX > reach[0] && ring.x - RING_PX < reach[1];
        const isOver = ring.y + RING_PX > y - NOTE_RISE_PX && ring.y - RING_PX < y + NOTE_LINES_PX;
        if (isAcross && isOver) y = ring.y + RING_PX + NOTE_RISE_PX;
      }
      floor = y + NOTE_HEIGHT_PX + 6;
      const xClear = input.widthPx - MARGIN_PX - widthPx - ZOOM_WIDTH_PX;
      const x = y < ZOOM_HEIGHT_PX ? Math.min(xRight, xClear) : xRight;
      out.push({ ...note, at: { x: side === 'left' ? xLeft : x, y } });
    }
  }
  return out;
}

function layOutPulls(input: OverlayInput, left: number, right: number): OverlayPicture['pulls'] {
  const { box, project } = input;
  const middle: Vec3 = [
    (box.min[0] + box.max[0]) / 2,
    (box.min[1] + box.max[1]) / 2,
    box.min[2] + (box.max[2] - box.min[2]) * 0.14,
  ];
  const radius = Math.hypot(box.max[0] - box.min[0], box.max[1] - box.min[1]) / 2;
  const from = project(middle);
  const scale = input.mmPerPixel > 0 ? radius / input.mmPerPixel : 0;
  if (scale === 0) return [];
  let endOnCount = 0;
  return input.pieces.flatMap((piece, i): OverlayPicture['pulls'] => {
    const tip = project([
      middle[0] + piece.pull[0] * radius,
      middle[1] + piece.pull[1] * radius,
      middle[2] + piece.pull[2] * radius,
    ]);
    const dx = tip.x - from.x;
    const dy = tip.y - from.y;
    const length = Math.hypot(dx, dy);
    const text = `${piece.name} pulls`;
    if (length < END_ON_SHARE * scale) {
      const at = {
        x: clamp(from.x + 96 * endOnCount - 48, MARGIN_PX, input.widthPx),
        y: input.heightPx - 44,
      };
      endOnCount++;
      const kind = isToward(input, middle, piece.pull, radius) ? 'toward' : 'away';
      return [{ piece: i, kind, from: at, to: at, text }];
    }
    const onBoard = arrowOnBoard(input, piece.pull);
    if (onBoard) return [{ piece: i, kind: 'arrow', ...onBoard, text }];
    const ux = dx / length;
    const uy = dy / length;
    // From where the ray leaves the mould's outline, so that the arrow stands clear of it.
    const half = (right - left) / 2;
    const start = Math.min(length, Math.abs(ux) > 0.3 ? half / Math.abs(ux) : length) + 8;
    const a = inside(input, { x: from.x + ux * start, y: from.y + uy * start });
    const b = inside(input, { x: from.x + ux * (start + ARROW_PX), y: from.y + uy * (start + ARROW_PX) });
    // Seen from near, the arrow's place lies outside the picture.
    if (Math.hypot(b.x - a.x, b.y - a.y) < ARROW_PX / 2) return [];
    return [{ piece: i, kind: 'arrow', from: a, to: b, text }];
  });
}

/** The arrow laid on the board where the pull leaves the mould's box; null where the mould hides its foot. */
function arrowOnBoard(input: OverlayInput, pull: Vec3): { readonly from: Xy; readonly to: Xy } | null {
  if (Math.abs(pull[2]) > Math.SQRT1_2) return null;
  const { box } = input;
  const level = Math.hypot(pull[0], pull[1]);
  const half = [(box.max[0] - box.min[0]) / 2, (box.max[1] - box.min[1]) / 2] as const;
  const reach = (Math.abs(pull[0]) * half[0] + Math.abs(pull[1]) * half[1]) / level;
  const at = (mm: number) =>
    input.project([
      box.min[0] + half[0] + (pull[0] / level) * mm,
      box.min[1] + half[1] + (pull[1] / level) * mm,
      0,
    ]);
  const from = at(reach * 1.04);
  const to = at(reach * 1.04 + ARROW_PX * input.mmPerPixel);
  const isInPicture = (p: Xy) =>
    p.x > MARGIN_PX && p.x < input.widthPx - MARGIN_PX && p.y > 0 && p.y < input.heightPx - 30;
  return from.visible && isInPicture(from) && isInPicture(to) ? { from, to } : null;
}

/** Nearer things are drawn larger: a pull that makes the mould's width grow on the screen comes toward the eye. */
function isToward(input: OverlayInput, middle: Vec3, pull: Vec3, radius: number): boolean {
  const span = (shift: number): number => {
    const p = (sign: number) =>
      input.project([
        middle[0] + pull[0] * shift - pull[1] * sign * radius,
        middle[1] + pull[1] * shift + pull[0] * sign * radius,
        middle[2] + pull[2] * shift,
      ]);
    const a = p(-1);
    const b = p(1);
    return Math.hypot(a.x - b.x, a.y - b.y);
  };
  return span(radius) > span(-radius);
}

function layOutBar(input: OverlayInput): OverlayPicture['bar'] {
  if (!(input.mmPerPixel > 0)) return null;
  const fitting = input.barLengthsMm.filter((mm) => mm / input.mmPerPixel <= SCALE_BAR_MAX_PX);
  const mm = fitting.at(-1);
  if (mm === undefined || mm / input.mmPerPixel < 24) return null;
  return {
    x: MARGIN_PX + 10,
    y: input.heightPx - 16,
    lengthPx: mm / input.mmPerPixel,
    text: input.sayLength(mm).replace('.0 ', ' '),
  };
}

function nearestToMiddle(points: readonly ScreenPoint[]): ScreenPoint {
  const x = points.reduce((sum, p) => sum + p.x, 0) / points.length;
  const y = points.reduce((sum, p) => sum + p.y, 0) / points.length;
  return points.reduce((best, p) =>
    Math.hypot(p.x - x, p.y - y) < Math.hypot(best.x - x, best.y - y) ? p : best,
  );
}

function inside(input: OverlayInput, p: Xy): Xy {
  return {
    x: clamp(p.x, MARGIN_PX, input.widthPx - MARGIN_PX),
    y: clamp(p.y, MARGIN_PX, input.heightPx - MARGIN_PX - 20),
  };
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(high, Math.max(low, value));
}

function boxCorners(box: Box): Vec3[] {
  const corners: Vec3[] = [];
  for (const x of [box.min[0], box.max[0]])
    for (const y of [box.min[1], box.max[1]])
      for (const z of [box.min[2], box.max[2]]) corners.push([x, y, z]);
  return corners;
}
