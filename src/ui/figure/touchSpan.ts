import type { TouchPicture } from '../../jobs/protocol.ts';

/** Slides over which a piece touches the rubber, mm: from the first vertex that enters to the last that leaves. */
export interface TouchSpan {
  readonly firstMm: number;
  readonly lastMm: number;
}

/** Below this a piece touches from the very start, mm. */
const AT_ONCE_MM = 0.5;

const known = new WeakMap<TouchPicture, TouchSpan | null>();

/** When a piece touches as it slides; null when it never does. Kept as long as the picture lives. Cost: one pass. */
export function touchSpan(touch: TouchPicture): TouchSpan | null {
  const kept = known.get(touch);
  if (kept !== undefined) return kept;
  let firstMm = Infinity;
  let lastMm = -Infinity;
  for (let i = 0; i < touch.fromMm.length; i++) {
    if (touch.fromMm[i] === Infinity) continue;
    firstMm = Math.min(firstMm, touch.fromMm[i]);
    lastMm = Math.max(lastMm, touch.toMm[i]);
  }
  const span = firstMm === Infinity ? null : { firstMm, lastMm };
  known.set(touch, span);
  return span;
}

/** "A touches at 12 mm, is free after 63 mm", "A touches at once, ...", "A slides off free". */
export function sayTouch(name: string, span: TouchSpan | null, sayLength: (mm: number) => string): string {
  if (span === null) return `${name} slides off free`;
  const first = span.firstMm < AT_ONCE_MM ? 'at once' : `at ${sayLength(span.firstMm)}`;
  return `${name} touches ${first}, is free after ${sayLength(span.lastMm)}`;
}
