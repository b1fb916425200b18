import type { CoatPlan, PlanDocument } from '../plan/PlanDocument.ts';
import { coatMix } from './coatMix.ts';

/**
 * How the flange is shared out over the coats it is laid with: over the reinforced ones by their thickness, since prying
 * stresses it; over all coats where none is reinforced. Sums to 1. Common practice, no source.
 */
export function flangeShares(coats: readonly CoatPlan[]): number[] {
  const isLaid = (coat: CoatPlan): boolean =>
    coat.kind === 'reinforced' || !coats.some((other) => other.kind === 'reinforced');
  const totalMm = coats.reduce((sum, coat) => sum + (isLaid(coat) ? coat.thicknessMm : 0), 0);
  return coats.map((coat) => (isLaid(coat) ? coat.thicknessMm / totalMm : 0));
}

/** Density of the flange as laid, and once dry, g/mm3. */
export function flangeDensity(plan: Pick<PlanDocument, 'coats' | 'material' | 'otherMaterials'>): {
  readonly wetGPerMm3: number;
  readonly dryGPerMm3: number;
} {
  const shares = flangeShares(plan.coats);
  let wet = 0;
  let dry = 0;
  plan.coats.forEach((coat, n) => {
    const { mix } = coatMix(plan, coat);
    wet += (shares[n] * mix.densityGPerCm3) / 1000;
    dry += (shares[n] * mix.densityGPerCm3 * mix.dryShare) / 1000;
  });
  return { wetGPerMm3: wet, dryGPerMm3: dry };
}
