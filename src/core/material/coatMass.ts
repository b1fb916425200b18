import type { CoatKind, MaterialSystem } from '../plan/PlanDocument.ts';
import { coatDensityGPerCm3, fibreShareOf } from './mixDensity.ts';

const MM3_PER_CM3 = 1000;

/** Masses of what is laid up or mixed; `componentsG` has each component by name, and 'fibre' where there is any. */
export interface CoatMass {
  readonly massG: number;
  readonly componentsG: Readonly<Record<string, number>>;
}

/** Mass on the wall of a coat of this kind and volume, and of what it is made of. The components sum to the mass. */
export function coatMass(system: MaterialSystem, kind: CoatKind, volumeMm3: number): CoatMass {
  const massG = (volumeMm3 / MM3_PER_CM3) * coatDensityGPerCm3(system, kind);
  return splitMass(system, kind, massG);
}

/** Mass to be mixed so that this coat can be laid up: the mass on the wall and what stays in buckets and brushes. */
export function mixedMass(system: MaterialSystem, kind: CoatKind, volumeMm3: number): CoatMass {
  const laidUp = coatMass(system, kind, volumeMm3);
  return splitMass(system, kind, laidUp.massG * (1 + system.lossShare));
}

/** Mass of the flange, g: laid up as the reinforced coats are, since prying stresses it (common practice, no source). */
export function flangeMassG(system: MaterialSystem, volumeMm3: number): number {
  return coatMass(system, 'reinforced', volumeMm3).massG;
}

/** Mass of rubber, g. */
export function rubberMassG(system: MaterialSystem, volumeMm3: number): number {
  return (volumeMm3 / MM3_PER_CM3) * system.rubberDensityGPerCm3;
}

function splitMass(system: MaterialSystem, kind: CoatKind, massG: number): CoatMass {
  const share = fibreShareOf(system, kind);
  const mixG = massG / (1 + share);
  let parts = 0;
  for (const component of system.components) parts += component.partsByMass;
  const componentsG: Record<string, number> = {};
  for (const component of system.components) {
    componentsG[component.name] = (mixG * component.partsByMass) / parts;
  }
  if (share > 0) componentsG['fibre'] = massG - mixG;
  return { massG, componentsG };
}
