import type { TaskKind } from '../../PlanResult.ts';

/** One step of the work before it has a time: what it waits for and how long it takes. */
export interface DayTask {
  readonly id: string;
  readonly what: string;
  readonly kind: TaskKind;
  readonly piece: string | null;
  readonly coat: string | null;
  readonly coatNumber: number | null;
  readonly batch: number | null;
  /** Whole minutes. */
  readonly minutes: number;
  /** How many pairs of hands it takes while it lasts; 0: none, it dries or cures by itself, through the night too. */
  readonly hands: number;
  /** Ids of the steps that must be over before it begins. */
  readonly after: readonly string[];
  /** None before this, minutes after midnight of the first day; a step of no hands without predecessors begins at it. */
  readonly soonestMin: number;
  readonly limits: readonly StartLimit[];
}

/**
 * The step must begin no later than `withinMin` after the end of the step `of`, which is among its predecessors, near or
 * far. Both take hands: what nobody stands at begins by itself and cannot be put off.
 */
export interface StartLimit {
  readonly of: string;
  readonly withinMin: number;
  /** 'bond': the coat below would have to be keyed later on. 'seam': batches of one coat, one against the other. */
  readonly why: 'bond' | 'seam';
}
