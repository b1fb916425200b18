import { formatMass, type UnitSystem } from '../core/units.ts';

/** Decimals of a scale's finest step that are worth printing. */
const DECIMALS = 1;

/**
 * A mass to be weighed out: grams as the scale shows them, in either system of units, for gram scales are what batches are
 * weighed on; in US units the ounces stand after them.
 */
export function sayGrams(massG: number, system: UnitSystem): string {
  const grams = `${Number(massG.toFixed(DECIMALS))}\u00a0g`;
  return system === 'us' ? `${grams} (${formatMass(massG, system)})` : grams;
}
