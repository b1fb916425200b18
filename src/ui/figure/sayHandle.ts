import type { Box } from '../../core/mesh/TriMesh.ts';
import { formatLength, type UnitSystem } from '../../core/units.ts';
import { cutDepthMm } from '../../session/cutDraft.ts';
import type { StanderState } from '../control/Stander.ts';

/** What stands at the handle of a board or a plane: where it has come to. */
export function sayHandle({ mode, boardMm, cut }: StanderState, box: Box, units: UnitSystem): string {
  if (mode === 'board') {
    if (boardMm === 0) return 'Board';
    return `Board ${formatLength(Math.abs(boardMm), units)} ${boardMm < 0 ? 'lower' : 'higher'}`;
  }
  if (cut === null) return '';
  const said = formatLength(cutDepthMm(cut, box), units);
  return cut.kind === 'level' && cut.slopeDeg < 0 ? `${said} above the board` : `${said} in`;
}
