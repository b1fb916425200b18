import type { CastingPlan } from '../core/plan/PlanDocument.ts';
import type { PlanEdit } from './SessionStore.ts';

/** What is poured is no lighter than foam and no heavier than molten lead, g/cm3: beyond these a unit was mistaken. */
const LEAST_DENSITY = 0.05;
const MOST_DENSITY = 12;

/** Actions on how the mould is filled. Each returns the action; one whose value cannot be leaves the plan as it is. */
const changeCasting =
  (change: Partial<CastingPlan>): PlanEdit =>
  (plan) => ({ ...plan, casting: { ...plan.casting, ...change } });

const isLength = (mm: number): boolean => mm > 0 && Number.isFinite(mm);

export const setPourDensity = (densityGPerCm3: number): PlanEdit =>
  densityGPerCm3 >= LEAST_DENSITY && densityGPerCm3 <= MOST_DENSITY
    ? changeCasting({ densityGPerCm3 })
    : (plan) => plan;

/** Standing on its board as it was built, or turned over with the foot upward. */
export const setAttitude = (attitude: CastingPlan['attitude']): PlanEdit => changeCasting({ attitude });

/** Height of the fill above the lowest point of the rubber as it stands, mm, or to the top. */
export const setPourLevel = (levelMm: number | 'full'): PlanEdit =>
  levelMm === 'full' || isLength(levelMm) ? changeCasting({ levelMm }) : (plan) => plan;

/** Wall of a hollow cast, mm; null: solid. */
export const setCastWall = (wallMm: number | null): PlanEdit =>
  wallMm === null || isLength(wallMm) ? changeCasting({ wallMm }) : (plan) => plan;

/** Thickness of the rubber, mm: for weights alone, where the scan is of the rubber itself. */
export const setRubberWall = (rubberMm: number): PlanEdit =>
  isLength(rubberMm) ? changeCasting({ rubberMm }) : (plan) => plan;
