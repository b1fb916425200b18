import { checkRecipe } from '../material/checkRecipe.ts';
import { coatSystem } from '../material/coatMix.ts';
import { coatTimes } from '../material/coatTimes.ts';
import type { WorkNote } from '../PlanResult.ts';
import type { PlanDocument } from '../plan/PlanDocument.ts';

/** What of the coats' recipes goes beyond a limit or beyond what is known, coat by coat; the same for every piece. */
export function noteRecipes(plan: PlanDocument): WorkNote[] {
  return plan.coats.flatMap((coat, number) => {
    const system = coatSystem(plan, coat);
    const notes = [...checkRecipe(system, coat), ...coatTimes(system, coat).notes];
    return notes.map((note) => ({ ...note, piece: null, coat: number }));
  });
}
