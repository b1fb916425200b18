import type { PlanResult, TaskKind, TaskResult } from '../../core/PlanResult.ts';

/** Which cautions belong to a step of each kind, by the step of the work that a caution names. */
const BESIDE: Readonly<Record<TaskKind, readonly string[]>> = {
  wall: ['Flange'],
  release: ['Release'],
  dry: ['Release'],
  'set-out': ['Mixing', 'Resin'],
  batch: ['Mixing', 'Resin', 'Setting'],
  cure: ['Setting'],
  shims: [],
  clean: [],
  trim: ['Trimming'],
  open: ['Opening', 'Lifting'],
  assemble: ['Lifting', 'Casting'],
};

/** The cautions that stand beside a step; a batch of a reinforced coat has those of the fibre too. */
export function cautionsBeside(
  task: TaskResult,
  result: Pick<PlanResult, 'cautions' | 'coatWork'>,
): PlanResult['cautions'] {
  const steps = [...BESIDE[task.kind]];
  const isReinforced =
    task.kind === 'batch' &&
    result.coatWork.some(
      ({ piece, coat, kind }) => piece === task.piece && coat === task.coatNumber && kind === 'reinforced',
    );
  if (isReinforced) steps.push('Reinforced coat');
  return result.cautions.filter(({ step }) => steps.includes(step));
}

/** The cautions that stand beside no step of any kind: those of the whole work. */
export function cautionsOfAll(result: Pick<PlanResult, 'cautions'>): PlanResult['cautions'] {
  const known = new Set([...Object.values(BESIDE).flat(), 'Reinforced coat']);
  return result.cautions.filter(({ step }) => !known.has(step));
}
