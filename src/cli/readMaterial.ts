import { readFile } from 'node:fs/promises';
import { PlanError } from '../core/errors.ts';
import { BUILT_IN_MATERIALS, findMaterial } from '../core/material/builtInMaterials.ts';
import type { MaterialSystem } from '../core/material/MaterialSystem.ts';
import { parseMaterial } from '../core/material/parseMaterial.ts';
import { CallError } from './CallError.ts';

/** The built-in system of this id, or the one in this file. Throws CallError. */
export async function readMaterial(idOrFile: string): Promise<MaterialSystem> {
  const builtIn = findMaterial(idOrFile);
  if (builtIn !== undefined) return builtIn;
  let text: string;
  try {
    text = await readFile(idOrFile, 'utf8');
  } catch {
    const ids = BUILT_IN_MATERIALS.map((system) => system.id).join(', ');
    throw new CallError(
      `--material: “${idOrFile}” is neither a built-in system (${ids}) nor a file that can be read.`,
    );
  }
  try {
    return parseMaterial(JSON.parse(text));
  } catch (error) {
    if (error instanceof PlanError) throw new CallError(`--material ${idOrFile}: ${error.message}`);
    throw new CallError(`--material ${idOrFile}: the file is not JSON.`);
  }
}
