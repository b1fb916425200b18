import { formatArea, formatLength, G_PER_POUND, type UnitSystem } from '../core/units.ts';

const G_PER_KG = 1000;

/**
 * What a kilogram (or a pound) of a mix covers at a coat's thickness, laid flat: mass over density over thickness. "1 kg covers
 * 3 612 cm² at 1.5 mm". For checking against the figure on a data sheet; ridges take more, hollows less.
 */
export function sayCoverage(densityGPerCm3: number, thicknessMm: number, system: UnitSystem): string {
  const massG = system === 'us' ? G_PER_POUND : G_PER_KG;
  const areaMm2 = ((massG / densityGPerCm3) * 1000) / thicknessMm;
  return `1\u00a0${system === 'us' ? 'lb' : 'kg'} covers ${formatArea(areaMm2, system)} at ${formatLength(thicknessMm, system)}`;
}
