/** A control point of a line, by place. */
export interface ControlPointRef {
  readonly line: number;
  readonly point: number;
}

/** A control point as it stands in the picture, CSS pixels. */
export interface ControlPointOnScreen extends ControlPointRef {
  readonly x: number;
  readonly y: number;
  /** False: behind the camera or hidden by the mould, and so not to be grabbed. */
  readonly visible: boolean;
}

/** Half of 44 px, the least size of a target for a finger (WCAG 2.2, 2.5.5 Target Size (Enhanced)). */
export const TOUCH_RADIUS_PX = 22;
/** A mouse aims better; a smaller reach lets one set points close to one another. */
export const MOUSE_RADIUS_PX = 13;

/** The visible control point nearest to the pointer within the radius, or null. Of equally near ones the first. */
export function hitControlPoint(
  points: readonly ControlPointOnScreen[],
  xPx: number,
  yPx: number,
  radiusPx: number,
): ControlPointRef | null {
  let best: ControlPointRef | null = null;
  let bestPx = radiusPx;
  for (const candidate of points) {
    if (!candidate.visible) continue;
    const awayPx = Math.hypot(candidate.x - xPx, candidate.y - yPx);
    if (awayPx < bestPx || (best === null && awayPx <= bestPx)) {
      best = { line: candidate.line, point: candidate.point };
      bestPx = awayPx;
    }
  }
  return best;
}
