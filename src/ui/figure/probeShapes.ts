import type { ProbeSpot } from './probeSpots.ts';
import { circlePath, type SketchShape } from './sketch/Sketch.ts';

/** Radius of the ring round a number, CSS pixels. */
const RING_PX = 11;

/** The points for the pin, ringed and numbered as on the shop sheet. */
export function probeShapes(spots: readonly ProbeSpot[]): SketchShape[] {
  return spots.flatMap(({ number, x, y }): SketchShape[] => [
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
}
