import type { LiftingPlan } from '../core/plan/PlanDocument.ts';
import type { PlanEdit } from './SessionStore.ts';

/** The turn that the lifting equation knows, degrees: NIOSH 94-110, asymmetry at most 135. */
const MOST_TURN_DEG = 135;
/** Lifts a minute: its table of frequencies ends at 15. */
const MOST_LIFTS_PER_MIN = 15;

/** Actions on how a piece is lifted. Each returns the action; one whose value cannot be leaves the plan as it is. */
const changeLifting =
  (change: Partial<LiftingPlan>): PlanEdit =>
  (plan) => ({ ...plan, lifting: { ...plan.lifting, ...change } });

/** How far the hands are in front of the ankles, mm, or by the piece's own depth. */
export const setReach = (horizontalMm: number | 'auto'): PlanEdit =>
  horizontalMm === 'auto' || horizontalMm > 0 ? changeLifting({ horizontalMm }) : (plan) => plan;

/** Height of the hands where the lift begins and where it ends, mm above the floor. */
export const setLiftHeights = (fromMm: number, toMm: number): PlanEdit =>
  fromMm >= 0 && toMm >= 0 ? changeLifting({ fromMm, toMm }) : (plan) => plan;

/** Turn of the body during the lift, degrees. */
export const setTwist = (asymmetryDeg: number): PlanEdit =>
  asymmetryDeg >= 0 && asymmetryDeg <= MOST_TURN_DEG ? changeLifting({ asymmetryDeg }) : (plan) => plan;

export const setGrip = (grip: LiftingPlan['grip']): PlanEdit => changeLifting({ grip });

export const setLiftsPerMin = (liftsPerMin: number): PlanEdit =>
  liftsPerMin > 0 && liftsPerMin <= MOST_LIFTS_PER_MIN ? changeLifting({ liftsPerMin }) : (plan) => plan;
