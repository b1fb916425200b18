/**
 * Tension around a thin cylinder under pressure inside, MPa: p r / t.
 * Source: Roark's Formulas for Stress and Strain, thin-walled pressure vessels; from memory. A ball carries half of it.
 */
export function hoopStressMPa(pressurePa: number, radiusMm: number, thicknessMm: number): number {
  return (pressurePa * 1e-6 * radiusMm) / thicknessMm;
}
