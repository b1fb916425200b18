import type { Box, Vec3 } from '../core/mesh/TriMesh.ts';

/** Colours and such that the view needs, read by the ui from its CSS tokens and handed over; sRGB hex strings. */
export interface ViewTheme {
  readonly paper: string;
  readonly ink: string;
  readonly inkSoft: string;
  readonly accent: string;
  readonly clay: string;
  /** Tints of plaster by piece, apart in lightness as well as in hue. */
  readonly pieces: readonly string[];
  /** Coats from the rubber outward. */
  readonly coats: readonly string[];
  readonly rubber: string;
}

export type Aspect = 'front' | 'back' | 'left' | 'right' | 'top';

/** What the pointer does on the mould. */
export type PointerMode = 'look' | 'draw';

export interface SurfaceHit {
  /** Board frame, mm. */
  readonly point: Vec3;
  /** Triangle of the whole rubber, in the order of `PlanGeometry.rubber.indices`. */
  readonly tri: number;
}

/** What is drawn. Left-out keys keep their present value in `setShow`. */
export interface ViewShow {
  /** The rubber (or, while shells are hidden, the rubber's surface in the tints of the pieces). */
  readonly rubber: boolean;
  /** The shells in the tints of the pieces; the rubber then stays in the middle in its own colour. */
  readonly shells: boolean;
  readonly lines: boolean;
  /** The points that the lines were drawn through, where lines are shown. */
  readonly points: boolean;
  readonly marks: boolean;
  /** Code of the marks that are drawn stronger than the others; null: none. */
  readonly foundShown: string | null;
  /** What locks is hatched on the rubber of the pieces. */
  readonly undercuts: boolean;
  /** Filler is set off from the rubber by dots. */
  readonly filler: boolean;
  /** Index of the line that is drawn stronger; undefined: none. */
  readonly highlightLine: number | undefined;
  /** Index of the control point of `highlightLine` that is drawn filled; undefined: none. */
  readonly highlightPoint: number | undefined;
}

/** How what locks is drawn. */
export interface LockLook {
  /** How deep the rubber yields, mm: where it locks no deeper the strokes are set wider, and a line runs at this depth. */
  readonly giveMm: number;
  /** Depths at which lines run, mm, rising; MOST_LEVELS at most. */
  readonly levelsMm: readonly number[];
}

/** How a map is drawn over the rubber of the pieces: bands of colour, ruled between. */
export interface MapLook {
  /** Values between the bands, rising; MOST_BORDERS at most. */
  readonly borders: readonly number[];
  /** One more than borders, sRGB hex, from the least values to the greatest. */
  readonly colours: readonly string[];
  /** Value with a line in accent; null: none. */
  readonly judged: number | null;
  /** What lies on this side of a value is hatched; null: nothing. */
  readonly hatch: { readonly at: number; readonly side: 'below' | 'above' } | null;
}

/** A point of the picture, CSS pixels from the host's upper left corner. */
export interface ScreenPoint {
  readonly x: number;
  readonly y: number;
  /** False when the point is behind the camera, outside the picture, or behind the rubber. */
  readonly visible: boolean;
}

/** Axis-aligned box, board frame, mm. */
export type ViewBox = Box;

/** A standing or a cut that is tried before it is taken: only drawn, nothing is worked out anew. */
export interface Trial {
  /** Row-major 3 x 4, board frame: where the mould is moved to, the board staying; null: it stands as it does. */
  readonly move: readonly number[] | null;
  /** Where the board is drawn, mm above its present height; what of the mould lies below is drawn as going. */
  readonly boardMm: number;
  /** Planes that are drawn; what lies on the side that the normal (length 1) points to is drawn as going. */
  readonly planes: readonly { readonly normal: Vec3; readonly offsetMm: number }[];
}

export const NO_TRIAL: Trial = { move: null, boardMm: 0, planes: [] };

/** What the view tells its owner. */
export interface ViewEvents {
  /** Draw mode: the rubber was clicked away from any control point. */
  pointAdded(hit: SurfaceHit): void;
  /** A control point is being dragged (`done` false) or was dropped (`done` true). */
  pointMoved(lineIndex: number, pointIndex: number, hit: SurfaceHit, done: boolean): void;
  pointSelected(lineIndex: number, pointIndex: number): void;
  /** Look mode: the mouse rests or a finger is held at a place of the picture, or null when it leaves. */
  pointed(place: { readonly x: number; readonly y: number; readonly isTouch: boolean } | null): void;
  /** Draw mode: the mouse rests over the rubber, or null when it leaves. */
  hovered(hit: SurfaceHit | null): void;
  /** After each drawn frame in which the camera or content changed: overlays re-project now. */
  framed(): void;
  /** The graphics card let go of the picture; it may come back by itself. */
  contextLost(): void;
  /** It came back, and the picture is drawn again. */
  contextRestored(): void;
}
