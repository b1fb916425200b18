import { PlanError } from '../errors.ts';
import { checkMaterialFile } from './checkMaterialFile.ts';
import type { MaterialSystem } from './MaterialSystem.ts';
import { migrateMaterial1 } from './migrateMaterial1.ts';

const FORMAT_1 = 'scute-material/1';

/**
 * The material system of a material file (JSON already parsed): the system with the name of its format before it. A file of
 * the first format is brought to the present one.
 * Throws PlanError 'bad-material' naming the first wrong field.
 */
export function parseMaterial(json: unknown): MaterialSystem {
  if (typeof json !== 'object' || json === null || Array.isArray(json)) {
    throw new PlanError(
      'bad-material',
      'The material file is not a table of a material system; start from a copy of assets/material/two-part-polymer-gypsum.json.',
    );
  }
  const file = json as Readonly<Record<string, unknown>>;
  if (file['schema'] !== FORMAT_1) return checkMaterialFile(file);
  const { schema: _schema, ...old } = file;
  return migrateMaterial1(old);
}
