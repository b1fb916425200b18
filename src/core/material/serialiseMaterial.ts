import { MATERIAL_FORMAT } from './checkMaterialFile.ts';
import type { MaterialSystem } from './MaterialSystem.ts';

/** The text of a material file, which `parseMaterial` reads back equal; ends with a line feed. */
export function serialiseMaterial(system: MaterialSystem): string {
  return `${JSON.stringify({ schema: MATERIAL_FORMAT, ...system }, null, 2)}\n`;
}
