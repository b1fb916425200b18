import { sayLength } from './mesh/sayLength.ts';
import type { PieceResult, ScanNote } from './PlanResult.ts';
import { sayBoth } from './sayBoth.ts';

/** A coat whose bound is more than this share of it is not known. Own choice. */
const UNKNOWN_SHARE = 0.5;

/** A word on coats thinner than the cells that they were measured in, whose bound says that nothing is known; none where all is well. */
export function coarseNotes(pieces: readonly PieceResult[], cellMm: number): ScanNote[] {
  for (const piece of pieces) {
    const coat = piece.coats.find(
      ({ fromMm, toMm, volumeMm3, volumeErrorMm3 }) =>
        toMm - fromMm < cellMm && volumeErrorMm3 > UNKNOWN_SHARE * volumeMm3,
    );
    if (!coat) continue;
    const said = sayBoth(
      'text',
      (system) =>
        `The amounts are not to be weighed by: in cells of ${sayLength(cellMm, system)}, “${coat.name}” of ${piece.id} may be off by more than half of itself. Choose a finer resolution or a thicker coat, or check the unit and the scale of the scan.`,
    );
    return [{ code: 'cells-too-coarse', ...said }];
  }
  return [];
}
