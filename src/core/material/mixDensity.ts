import type { CoatKind, MaterialComponent, MaterialSystem } from '../plan/PlanDocument.ts';

/**
 * Density of a mix of which the components' volumes add, g/cm3: sum of parts / sum of parts over density.
 * Source: mixing rule; it meets five published wet densities of plaster to about 1 % (test/core/material).
 * Limits: no reaction shrinkage, no dissolving of one part in another.
 */
export function mixDensityGPerCm3(
  components: readonly Pick<MaterialComponent, 'partsByMass' | 'densityGPerCm3'>[],
): number {
  let massParts = 0;
  let volumeParts = 0;
  for (const component of components) {
    massParts += component.partsByMass;
    volumeParts += component.partsByMass / component.densityGPerCm3;
  }
  return massParts / volumeParts;
}

/**
 * Density of a laid-up coat of the kind, g/cm3: the mix, with fibre in a reinforced coat (its share is on the
 * mix without it), less the entrained air, which takes volume and has no mass.
 */
export function coatDensityGPerCm3(system: MaterialSystem, kind: CoatKind): number {
  const mix = mixDensityGPerCm3(system.components);
  const share = fibreShareOf(system, kind);
  const solid = (1 + share) / (1 / mix + share / system.fibreDensityGPerCm3);
  return solid * (1 - system.airShare);
}

/** Mass of fibre per mass of the mix without it, for a coat of the kind: only reinforced coats carry any. */
export function fibreShareOf(system: MaterialSystem, kind: CoatKind): number {
  return kind === 'reinforced' ? system.fibreShare : 0;
}
