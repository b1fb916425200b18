import type { PlanDocument } from '../../plan/PlanDocument.ts';
import type { Suggestion } from './Suggestion.ts';

/** The plan with a suggestion's lines and pieces as its own; filler accepted for other lines is given up. */
export function takeSuggestion(
  plan: PlanDocument,
  { lines, planPieces }: Pick<Suggestion, 'lines' | 'planPieces'>,
): PlanDocument {
  return {
    ...plan,
    parting: {
      ...plan.parting,
      pieceCount: planPieces.length,
      pullAzimuthsDeg: 'auto',
      lines,
      pieces: planPieces,
      blockOut: [],
    },
  };
}
