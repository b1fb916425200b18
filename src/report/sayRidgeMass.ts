import { formatMass, G_PER_OUNCE, type UnitSystem } from '../core/units.ts';

/** Least that is told of a ridge coat, a tenth of the small unit: less would print as nothing. */
const LEAST_G: Readonly<Record<UnitSystem, number>> = { metric: 0.1, us: 0.1 * G_PER_OUNCE };

/** Mass of a ridge coat; "under 0.1 g" where it is less than that. */
export function sayRidgeMass(massG: number, system: UnitSystem, like = massG): string {
  const least = LEAST_G[system];
  return massG < least ? `under ${formatMass(least, system)}` : formatMass(massG, system, like);
}
