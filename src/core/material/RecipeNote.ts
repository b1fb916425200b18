import type { WorkNote } from '../PlanResult.ts';

/** A note on a coat's recipe, before it is known which coat of which piece it speaks of. */
export type RecipeNote = Omit<WorkNote, 'piece' | 'coat'>;
