import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { SurfaceHit } from '../viewTypes.ts';

/** A place of the pointer in the picture and what lies under it. */
export interface ToolPlace {
  /** CSS pixels from the canvas's upper left corner. */
  readonly xPx: number;
  readonly yPx: number;
  readonly isTouch: boolean;
  /** The rubber under the pointer; null beside it. Looked up when first read, then kept. */
  readonly hit: SurfaceHit | null;
  /** From the camera through the pixel, board frame, mm; the direction has length 1. */
  readonly ray: { readonly origin: Vec3; readonly direction: Vec3 };
}

/** Which keys a tool hears, as `KeyboardEvent.key` names them, and whether Shift was held. */
export interface ToolKey {
  readonly key: string;
  readonly isShift: boolean;
}

/**
 * What the pointer does on the mould while a tool is in hand. The first finger, pen or left button is the tool's when
 * `down` answers true, and the camera's when it answers false; Shift, the other buttons, the wheel and two fingers are
 * always the camera's. A second finger ends what the first began with `up(place, false)`.
 */
export interface PointerTool {
  /** CSS cursor while the tool is in hand; '' for the usual one. */
  readonly cursor: string;
  /** The press begins. True: this tool takes it, with all moves until `up`. */
  down(place: ToolPlace): boolean;
  /** Every move of a press that the tool took, from the first pixel on. */
  move(place: ToolPlace): void;
  /** The press ended; `isWanted` false: it was broken off (a second finger, the system). */
  up(place: ToolPlace, isWanted: boolean): void;
  /** A press that was left to the camera ended where it began: a click or a touch. */
  tap?(place: ToolPlace): void;
  /** The mouse rests or moves without a button; null: it left. */
  hover?(place: ToolPlace | null): void;
  /** A key while the figure has them; `middle` is the place at the cross. True: the tool used it. */
  key?(key: ToolKey, middle: ToolPlace): boolean;
  /** The tool is laid down: what it drew goes. */
  dispose(): void;
}
