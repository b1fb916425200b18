import type { Suggestion } from '../core/parting/suggest/Suggestion.ts';
import type { LinePicture } from '../jobs/protocol.ts';

/** The lines of a suggestion as the figure draws them, without points to drag: it is only looked at. */
export function proposalLines({ partingLines }: Pick<Suggestion, 'partingLines'>): readonly LinePicture[] {
  return partingLines.map(({ points }, i) => ({
    id: `proposal-${i + 1}`,
    closed: false,
    path: Float32Array.from(points.flat()),
    controlPoints: new Float32Array(0),
  }));
}
