import { readFile } from 'node:fs/promises';
import { PlanError } from '../core/errors.ts';
import { BUILT_IN_MATERIALS, DEFAULT_MATERIAL, findMaterial } from '../core/material/builtInMaterials.ts';
import type { MaterialSystem } from '../core/material/MaterialSystem.ts';
import { parseMaterial } from '../core/material/parseMaterial.ts';
import { CallError } from './CallError.ts';

const WHAT_TO_DO = `Correct it, or start from a copy of assets/material/${DEFAULT_MATERIAL.id}.json.`;

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
    // Some editors begin a file with a byte order mark, which JSON does not know.
    return parseMaterial(JSON.parse(text.replace(/^\ufeff/, '')));
  } catch (error) {
    if (error instanceof PlanError) throw new CallError(`--material ${idOrFile}: ${error.message}`);
    throw new CallError(`--material ${idOrFile}: the file is ${sayNotJson(text, error)}. ${WHAT_TO_DO}`);
  }
}

/** What is off, without handing out what the file holds: it may be long, or no text at all. */
function sayNotJson(text: string, error: unknown): string {
  if (text.trim() === '') return 'empty';
  const found = error instanceof Error ? /at position (\d+)/.exec(error.message) : null;
  if (found === null) return 'not JSON';
  const line = text.slice(0, Number(found[1])).split('\n').length;
  return `not JSON, from line ${line} on`;
}
