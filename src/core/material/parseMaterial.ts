import * as v from 'valibot';
import { PlanError } from '../errors.ts';
import { describeIssue } from '../plan/describeIssue.ts';
import type { MaterialSystem } from '../plan/PlanDocument.ts';
import { materialFileSchema } from './materialSchema.ts';

/**
 * The material system of a material file (JSON already parsed).
 * Throws PlanError 'bad-material' naming the first wrong field.
 */
export function parseMaterial(json: unknown): MaterialSystem {
  const parsed = v.safeParse(materialFileSchema, json);
  if (!parsed.success) {
    const { field, text } = describeIssue(parsed.issues[0]);
    throw new PlanError(
      'bad-material',
      field === ''
        ? 'The material file is not a table of a material system; start from a copy of assets/material/two-part-polymer-gypsum.json.'
        : `In the material file, “${field}” ${text}. Correct it and try again.`,
      field === '' ? undefined : field,
    );
  }
  const { schema: _schema, ...system } = parsed.output;
  return system;
}
