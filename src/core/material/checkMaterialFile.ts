import * as v from 'valibot';
import { PlanError } from '../errors.ts';
import { describeIssue } from '../plan/describeIssue.ts';
import type { MaterialSystem } from './MaterialSystem.ts';
import { materialSchema } from './materialSchema.ts';
import { type MaterialSystem1, material1Schema } from './materialSchema1.ts';

/** What a material file calls its format; the number goes up when an older tool could not read it any more. */
export const MATERIAL_FORMAT = 'scute-material/2';

/** A material file of the present format (JSON already parsed) as a system. Throws PlanError 'bad-material' naming the first wrong field. */
export function checkMaterialFile(file: Readonly<Record<string, unknown>>): MaterialSystem {
  const { schema, ...system } = file;
  if (schema !== MATERIAL_FORMAT) {
    throw new PlanError(
      'bad-material',
      `In the material file, “schema” is not "${MATERIAL_FORMAT}". A file of a later format needs a later version of Scute; otherwise start from a copy of assets/material/two-part-polymer-gypsum.json.`,
      'schema',
    );
  }
  return checked(materialSchema, system);
}

/** A system of the first format. Throws PlanError 'bad-material' naming the first wrong field. */
export function checkMaterial1(system: unknown): MaterialSystem1 {
  return checked(material1Schema, system);
}

function checked<T>(schema: v.GenericSchema<unknown, T>, system: unknown): T {
  const parsed = v.safeParse(schema, system);
  if (parsed.success) return parsed.output;
  const { field, text } = describeIssue(parsed.issues[0]);
  throw new PlanError(
    'bad-material',
    field === ''
      ? 'The material is not a table of a material system; start from a copy of assets/material/two-part-polymer-gypsum.json.'
      : `In the material, “${field}” ${text}. Correct it and try again.`,
    field === '' ? undefined : field,
  );
}
