import type { ProbeSpot } from './probeSpots.ts';
import { circlePath, type SketchShape } from './sketch/Sketch.ts';

/** Radius of the ring round a number, CSS pixels. */
const RING_PX = 11;
/** A number farther from its point than this is led to it, px. */
const LED_PX = 8;

/** The points for the pin, ringed and numbered as on the shop sheet. */
export function probeShapes(spots: readonly ProbeSpot[]): SketchShape[] {
  const leaders = spots
    .filter(({ x, y, at }) => Math.hypot(x - at.x, y - at.y) > LED_PX)
    .flatMap(({ x, y, at }): SketchShape[] => [
      { kind: 'path', d: `M${at.x} ${at.y}L${x} ${y}`, stroke: '--paper', widthPx: 3 },
      { kind: 'path', d: `M${at.x} ${at.y}L${x} ${y}`, stroke: '--ink', widthPx: 1.3 },
      { kind: 'path', d: circlePath(at.x, at.y, 3), fill: '--ink', stroke: '--paper', widthPx: 1 },
    ]);
  const rings = spots.flatMap(({ number, x, y }): SketchShape[] => [
    { kind: 'path', d: circlePath(x, y, RING_PX), fill: '--paper', stroke: '--ink', widthPx: 1.3 },
    {
      kind: 'text',
      name: 'probe',
      x,
      y: y + 5,
      text: String(number),
      ink: '--ink',
      sizePx: 14,
      anchor: 'middle',
      haloPx: 0,
    },
  ]);
  return [...leaders, ...rings];
}
