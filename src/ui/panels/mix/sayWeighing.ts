import { formatMass, type UnitSystem } from '../../../core/units.ts';

/** Thousands parted by a narrow no-break space. */
const THOUSANDS = /\B(?=(\d{3})+$)/g;

/** What the scale must read: grams to its last step, never kilograms, so that "1 234" and "1.2" stay what was rounded. */
export function sayWeighing(massG: number): string {
  const [whole, decimals] = String(Number(massG.toFixed(3))).split('.');
  const grouped = whole.replace(THOUSANDS, '\u202f');
  return decimals === undefined ? grouped : `${grouped}.${decimals}`;
}

/** The same in pounds and ounces, for those who weigh by them; nothing in metric. */
export function sayWeighingBeside(massG: number, system: UnitSystem): string {
  return system === 'us' ? formatMass(massG, 'us') : '';
}
