import { checkRecipe } from '../material/checkRecipe.ts';
import { coatSystem } from '../material/coatMix.ts';
import { coatTimes } from '../material/coatTimes.ts';
import type { WorkNote } from '../PlanResult.ts';
import type { CoatPlan, PlanDocument } from '../plan/PlanDocument.ts';

/** What of the coats' recipes goes beyond a limit or beyond what is known, coat by coat; the same for every piece. */
export function noteRecipes(plan: PlanDocument): WorkNote[] {
  return plan.coats.flatMap((coat, number) => {
    const system = coatSystem(plan, coat);
    const notes = [
      ...noteSystem(plan, coat, system.name),
      ...checkRecipe(system, coat),
      ...coatTimes(system, coat).notes,
    ];
    return notes.map((note) => ({ ...note, piece: null, coat: number }));
  });
}

/** A coat whose system has gone from the plan is planned in the shell's own; that must not pass in silence. */
function noteSystem(plan: PlanDocument, coat: CoatPlan, used: string): Pick<WorkNote, 'code' | 'text'>[] {
  const { systemId } = coat;
  const isKnown =
    systemId === null ||
    systemId === plan.material.id ||
    plan.otherMaterials.some((system) => system.id === systemId);
  if (isKnown) return [];
  return [
    {
      code: 'system-unknown',
      text: `Coat “${coat.name}” asks for the system “${systemId}”, which the plan does not hold. It is planned in ${used}; add the system to the plan, or choose another for the coat.`,
    },
  ];
}
