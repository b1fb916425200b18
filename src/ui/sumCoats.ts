import type { CoatResult, PlanResult } from '../core/PlanResult.ts';

/** Coats of all pieces added up, coat by coat; bounds add as if all erred the same way. Empty when there is no piece. */
export function sumCoats(result: PlanResult): readonly CoatResult[] {
  const { pieces } = result;
  const first = pieces[0];
  if (!first) return [];
  return first.coats.map((coat, i) => {
    const sum = (of: (c: CoatResult) => number) =>
      pieces.reduce((total, piece) => total + of(piece.coats[i]), 0);
    return {
      ...coat,
      volumeMm3: sum((c) => c.volumeMm3),
      volumeErrorMm3: sum((c) => c.volumeErrorMm3),
      massG: sum((c) => c.massG),
      massErrorG: sum((c) => c.massErrorG),
    };
  });
}
