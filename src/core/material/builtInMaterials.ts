import polymerGypsum from '../../../assets/material/two-part-polymer-gypsum.json' with { type: 'json' };
import type { MaterialSystem } from '../plan/PlanDocument.ts';
import { parseMaterial } from './parseMaterial.ts';

/** The systems that come with the tool. Held to the same schema as a user's own file. */
export const BUILT_IN_MATERIALS: readonly MaterialSystem[] = [parseMaterial(polymerGypsum)];

export const DEFAULT_MATERIAL: MaterialSystem = BUILT_IN_MATERIALS[0];

/** The built-in system of this id, or undefined. */
export function findMaterial(id: string): MaterialSystem | undefined {
  return BUILT_IN_MATERIALS.find((system) => system.id === id);
}
