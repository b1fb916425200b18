import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { ScreenPoint } from '../viewTypes.ts';
import { isHandleHit, mmAlong, type Pixels } from './handle.ts';
import type { PointerTool, ToolKey, ToolPlace } from './PointerTool.ts';

export interface SlideTarget {
  project(point: Vec3): ScreenPoint;
  mmPerPixel(): number;
  /** Where the handle is now, board frame, mm, and the axis (length 1) that it slides along. */
  handle(): { readonly at: Vec3; readonly axis: Vec3 };
  /** What an arrow key slides by, mm, and with Shift. */
  readonly stepMm: number;
  readonly longStepMm: number;
  /** Slides by so much from where the drag began (`isDone` false while it goes on). */
  slid(mm: number, isDone: boolean): void;
}

/** A handle that slides along an axis: a board up and down, a cut into the mould. Arrow up and right go along the axis as seen. */
export class SlideTool implements PointerTool {
  private start: { readonly at: Pixels; readonly alongPx: Pixels; readonly mmPerPixel: number } | null = null;
  private isOver = false;
  private slidMm = 0;

  constructor(private readonly target: SlideTarget) {}

  get cursor(): string {
    return this.start ? 'grabbing' : this.isOver ? 'grab' : '';
  }

  down(place: ToolPlace): boolean {
    if (!this.isHit(place)) return false;
    this.slidMm = 0;
    this.start = {
      at: { x: place.xPx, y: place.yPx },
      alongPx: this.alongPx(),
      mmPerPixel: this.target.mmPerPixel(),
    };
    return true;
  }

  move({ xPx, yPx }: ToolPlace): void {
    if (this.start === null) return;
    const { at, alongPx, mmPerPixel } = this.start;
    this.slidMm = mmAlong({ x: xPx - at.x, y: yPx - at.y }, alongPx, mmPerPixel);
    this.target.slid(this.slidMm, false);
  }

  up(): void {
    if (this.start === null) return;
    this.start = null;
    this.target.slid(this.slidMm, true);
  }

  hover(place: ToolPlace | null): void {
    this.isOver = place !== null && this.isHit(place);
  }

  key({ key, isShift }: ToolKey): boolean {
    const steps: Readonly<Record<string, Pixels>> = {
      ArrowUp: { x: 0, y: -1 },
      ArrowDown: { x: 0, y: 1 },
      ArrowRight: { x: 1, y: 0 },
      ArrowLeft: { x: -1, y: 0 },
    };
    const step = steps[key];
    if (!step) return false;
    // The way that the arrow points on the screen; along an axis seen end on, up is along it.
    const along = this.alongPx();
    const way = step.x * along.x + step.y * along.y;
    if (Math.abs(way) < 0.35 * Math.hypot(along.x, along.y)) return false;
    this.target.slid(Math.sign(way) * (isShift ? this.target.longStepMm : this.target.stepMm), true);
    return true;
  }

  dispose(): void {
    this.start = null;
  }

  private isHit({ xPx, yPx, isTouch }: ToolPlace): boolean {
    return isHandleHit(this.target.project(this.target.handle().at), { x: xPx, y: yPx }, isTouch);
  }

  /** What one pixel's worth of millimetres along the axis comes to on the screen, pixels: length 1 when seen square on. */
  private alongPx(): Pixels {
    const { at, axis } = this.target.handle();
    // Over a hundred pixels' worth, so that the perspective's rounding does not matter.
    const reachMm = 100 * this.target.mmPerPixel();
    const from = this.target.project(at);
    const to = this.target.project([
      at[0] + axis[0] * reachMm,
      at[1] + axis[1] * reachMm,
      at[2] + axis[2] * reachMm,
    ]);
    return { x: (to.x - from.x) / 100, y: (to.y - from.y) / 100 };
  }
}
