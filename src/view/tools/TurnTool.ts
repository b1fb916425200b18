import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { CameraBasis } from '../camera/cameraBasis.ts';
import type { PointerTool, ToolKey, ToolPlace } from './PointerTool.ts';

export interface TurnTarget {
  /** The camera's axes in the world. */
  axes(): CameraBasis;
  /** The mould turns further about an axis (length 1) by an angle, right-handed. */
  turned(axis: Vec3, angleRad: number): void;
  /** The turn was let go of; `isByHand` false: it was done by keys and is exact. */
  released(isByHand: boolean): void;
}

/** Dragging across 500 pixels turns the mould half round, as it does the camera. */
const TURN_RAD_PER_PX = Math.PI / 500;
const KEY_DEG = 1;
const SHIFT_KEY_DEG = 15;

/**
 * Turns the mould under the hand like a ball: what is dragged to the right turns about the picture's upright axis, what is
 * dragged down about its level one. Arrow keys turn by one degree, with Shift by fifteen.
 */
export class TurnTool implements PointerTool {
  readonly cursor = 'grab';
  private last: { readonly xPx: number; readonly yPx: number } | null = null;

  constructor(private readonly target: TurnTarget) {}

  down({ xPx, yPx }: ToolPlace): boolean {
    this.last = { xPx, yPx };
    return true;
  }

  move({ xPx, yPx }: ToolPlace): void {
    if (this.last === null) return;
    const dx = xPx - this.last.xPx;
    const dy = yPx - this.last.yPx;
    this.last = { xPx, yPx };
    const reachPx = Math.hypot(dx, dy);
    if (reachPx === 0) return;
    const { right, up } = this.target.axes();
    // What faces the eye goes where the pointer goes: right about the axis up, down about the axis to the right.
    const axis = [0, 1, 2].map((k) => (dx * up[k] + dy * right[k]) / reachPx) as [number, number, number];
    this.target.turned(axis, reachPx * TURN_RAD_PER_PX);
  }

  /** A drag broken off by a second finger leaves the mould where it had come to. */
  up(): void {
    if (this.last === null) return;
    this.last = null;
    this.target.released(true);
  }

  key({ key, isShift }: ToolKey): boolean {
    const angleRad = ((isShift ? SHIFT_KEY_DEG : KEY_DEG) * Math.PI) / 180;
    const { right } = this.target.axes();
    switch (key) {
      case 'ArrowRight':
        this.target.turned([0, 0, 1], angleRad);
        break;
      case 'ArrowLeft':
        this.target.turned([0, 0, 1], -angleRad);
        break;
      case 'ArrowDown':
        this.target.turned(right, angleRad);
        break;
      case 'ArrowUp':
        this.target.turned(right, -angleRad);
        break;
      default:
        return false;
    }
    this.target.released(false);
    return true;
  }

  dispose(): void {
    this.last = null;
  }
}
