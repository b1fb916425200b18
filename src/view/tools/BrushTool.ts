import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { SurfaceHit } from '../viewTypes.ts';
import type { PointerTool, ToolKey, ToolPlace } from './PointerTool.ts';

/** What the brush tells and shows. */
export interface BrushEvents {
  /** The brush came to this point of the rubber. */
  stroke(point: Vec3): void;
  /** It was lifted; `isWanted` false: broken off. */
  lifted(isWanted: boolean): void;
  /** A key asks for a wider (above 1) or narrower brush. */
  resized(factor: number): void;
  /** Where its ring lies; null: nowhere. */
  over(hit: SurfaceHit | null): void;
}

/** One press of [ or ] changes the radius so far. Own choice: three presses double it. */
const KEY_FACTOR = 2 ** (1 / 3);

/** A brush on the rubber: a press on it begins a stroke, beside it the camera turns; the space bar sets one dab at the cross. */
export class BrushTool implements PointerTool {
  readonly cursor = 'crosshair';

  constructor(private readonly events: BrushEvents) {}

  down(place: ToolPlace): boolean {
    if (place.hit === null) return false;
    this.strokeTo(place.hit);
    return true;
  }

  move(place: ToolPlace): void {
    // Off the rubber the stroke waits; it goes on where the pointer comes back.
    if (place.hit !== null) this.strokeTo(place.hit);
  }

  up(place: ToolPlace, isWanted: boolean): void {
    this.events.lifted(isWanted);
    if (place.isTouch) this.events.over(null);
  }

  hover(place: ToolPlace | null): void {
    this.events.over(place?.hit ?? null);
  }

  key({ key }: ToolKey, middle: ToolPlace): boolean {
    if (key === '[' || key === ']') {
      this.events.resized(key === ']' ? KEY_FACTOR : 1 / KEY_FACTOR);
      return true;
    }
    if (key !== ' ' || middle.hit === null) return false;
    this.strokeTo(middle.hit);
    this.events.lifted(true);
    return true;
  }

  dispose(): void {
    this.events.over(null);
  }

  private strokeTo(hit: SurfaceHit): void {
    this.events.over(hit);
    this.events.stroke(hit.point);
  }
}
