import { formatMass, groupDigits, type UnitSystem } from '../../../core/units.ts';

/** What the scale must read: grams to its last step, never kilograms, so that "1 234" and "1.2" stay what was rounded. */
export function sayWeighing(massG: number): string {
  return groupDigits(String(Number(massG.toFixed(3))));
}

/** The same in pounds and ounces, for those who weigh by them; nothing in metric. */
export function sayWeighingBeside(massG: number, system: UnitSystem): string {
  return system === 'us' ? formatMass(massG, 'us') : '';
}
