/**
 * The revised NIOSH lifting equation: RWL = LC HM VM DM AM FM CM.
 * Source: Waters, Putz-Anderson & Garg, Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH) 94-110,
 * revised September 2021.
 */

/** The equation's constants in one system of units; those of the two systems are no exact conversions of each other. */
export interface LiftingConstants {
  /** Load that is acceptable under ideal conditions. */
  readonly load: number;
  /** HM = horizontal / H. */
  readonly horizontal: number;
  /** VM = 1 - verticalSlope |V - verticalIdeal|. */
  readonly verticalSlope: number;
  readonly verticalIdeal: number;
  /** DM = 0.82 + distance / D. */
  readonly distance: number;
  /** Beyond these the equation ends and the limit is 0; from memory. Nearer than `horizontal` and shorter than `leastDistance` counts as that. */
  readonly mostHorizontal: number;
  readonly mostVertical: number;
  readonly leastDistance: number;
  readonly mostDistance: number;
}

/** Kilograms and centimetres. */
export const METRIC_LIFTING: LiftingConstants = {
  load: 23,
  horizontal: 25,
  verticalSlope: 0.003,
  verticalIdeal: 75,
  distance: 4.5,
  mostHorizontal: 63,
  mostVertical: 175,
  leastDistance: 25,
  mostDistance: 175,
};

const DISTANCE_FLOOR = 0.82;
/** AM = 1 - 0.0032 A, A in degrees. */
const ASYMMETRY_SLOPE = 0.0032;
/** Beyond it the equation ends; from memory. */
const MOST_ASYMMETRY_DEG = 135;

/** One lift, in the units of the constants. */
export interface Lift {
  /** Hands in front of the ankles' midpoint. */
  readonly horizontal: number;
  /** Hands over the floor, at the end of the lift that is judged. */
  readonly vertical: number;
  /** Between the hands' heights at both ends. */
  readonly distance: number;
  readonly asymmetryDeg: number;
  readonly frequencyMultiplier: number;
  readonly couplingMultiplier: number;
}

/** Recommended weight limit for one end of a lift, in the constants' unit of mass; 0 where the equation ends. */
export function weightLimit(lift: Lift, constants: LiftingConstants): number {
  const { horizontal, vertical, distance, asymmetryDeg } = lift;
  if (
    horizontal > constants.mostHorizontal ||
    vertical < 0 ||
    vertical > constants.mostVertical ||
    distance > constants.mostDistance ||
    asymmetryDeg > MOST_ASYMMETRY_DEG
  ) {
    return 0;
  }
  return (
    constants.load *
    Math.min(1, constants.horizontal / horizontal) *
    (1 - constants.verticalSlope * Math.abs(vertical - constants.verticalIdeal)) *
    Math.min(1, DISTANCE_FLOOR + constants.distance / Math.max(distance, constants.leastDistance)) *
    (1 - ASYMMETRY_SLOPE * asymmetryDeg) *
    lift.frequencyMultiplier *
    lift.couplingMultiplier
  );
}
