import type { CDPSession } from 'playwright-core';

export interface Place {
  readonly x: number;
  readonly y: number;
}

/** Between two reports of a moving finger, a screen's frame or so, ms. */
const STEP_MS = 16;

/**
 * Touches as a screen reports them, through the browser's own input: each finger comes down, one after the other, then all
 * move together along their paths (as many places each), then all are lifted. CSS pixels of the window.
 */
export async function moveFingers(cdp: CDPSession, paths: readonly (readonly Place[])[]): Promise<void> {
  const at = (step: number, count: number) =>
    paths.slice(0, count).map((path, id) => ({ ...path[step], id }));
  for (let count = 1; count <= paths.length; count++) {
    await cdp.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: at(0, count) });
  }
  for (let step = 1; step < paths[0].length; step++) {
    await cdp.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: at(step, paths.length) });
    await new Promise((done) => setTimeout(done, STEP_MS));
  }
  await cdp.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
}

/** A straight path in equal steps, both ends in it. */
export function straight(from: Place, to: Place, steps = 6): Place[] {
  return Array.from({ length: steps + 1 }, (_, i) => ({
    x: from.x + ((to.x - from.x) * i) / steps,
    y: from.y + ((to.y - from.y) * i) / steps,
  }));
}
