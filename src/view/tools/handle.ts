/** A place or a way on the screen, CSS pixels, y down. */
export interface Pixels {
  readonly x: number;
  readonly y: number;
}

/** A finger needs a target 44 pixels across (WCAG 2.2, 2.5.5); a mouse is content with less. */
const TOUCH_PX = 26;
const MOUSE_PX = 18;
/** An axis that shows less than this of its length is seen end on: then up on the screen is along it. Own choice. */
const LEAST_SEEN = 0.15;

export function isHandleHit(handle: Pixels, place: Pixels, isTouch: boolean): boolean {
  return Math.hypot(handle.x - place.x, handle.y - place.y) <= (isTouch ? TOUCH_PX : MOUSE_PX);
}

/**
 * How far a drag of the pointer slides a handle along its axis, mm: the point of the axis nearest to the pointer follows it.
 * @param alongPx what one pixel's worth of mm along the axis comes to on the screen, pixels
 */
export function mmAlong(dragPx: Pixels, alongPx: Pixels, mmPerPixel: number): number {
  const length2 = alongPx.x ** 2 + alongPx.y ** 2;
  if (length2 < LEAST_SEEN ** 2) return -dragPx.y * mmPerPixel;
  return ((dragPx.x * alongPx.x + dragPx.y * alongPx.y) / length2) * mmPerPixel;
}
