import type { PlanResult, WorkNote } from '../core/PlanResult.ts';

/** Which piece and which coat a note speaks of: "Front, Reinforced"; '' when it speaks of all. */
export function leadOfNote(
  { piece, coat }: Pick<WorkNote, 'piece' | 'coat'>,
  pieces: PlanResult['pieces'],
): string {
  const name = pieces.find((one) => one.id === piece)?.name;
  const coatName = coat === null ? undefined : pieces[0]?.coats[coat]?.name;
  return [name, coatName].filter((part) => part !== undefined).join(', ');
}
