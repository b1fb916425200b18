import { readFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import type { Checkpoint } from '../core/checkpoint.ts';
import { MeshError } from '../core/errors.ts';
import { newPlan } from '../core/plan/newPlan.ts';
import type { PlanDocument } from '../core/plan/PlanDocument.ts';
import { parsePlan } from '../core/plan/parsePlan.ts';
import type { OpenedMesh } from '../io/OpenedMesh.ts';
import { openMesh } from '../io/openMesh.ts';

/** What a call works on: the plan (a new one for a bare scan) and the path of its scan. */
export interface Job {
  readonly plan: PlanDocument;
  readonly scanPath: string;
}

/**
 * A scan file with a new plan, or a saved plan (a name that ends in .json) with the scan that it names, which lies beside it.
 * Throws MeshError for what cannot be read, PlanError for a JSON file that is no plan.
 */
export async function readJob(path: string): Promise<Job> {
  if (!/\.json$/i.test(path)) return { plan: newPlan(basename(path)), scanPath: path };
  const text = new TextDecoder().decode(await readBytes(path));
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    const why = error instanceof Error ? error.message : '';
    throw new MeshError(
      'bad-value',
      `${path} cannot be read as a plan: it is not JSON (${why}). Open a plan that was saved here.`,
    );
  }
  const plan = parsePlan(json);
  // Only the last part of the name: a plan from elsewhere must not make the tool read any file it likes.
  return { plan, scanPath: join(dirname(path), basename(plan.scan.file.replaceAll('\\', '/'))) };
}

/** The mesh in the file's own units, with what reading it had to say. Throws MeshError. */
export async function readMesh(path: string, cp: Checkpoint): Promise<OpenedMesh> {
  const bytes = await readBytes(path);
  return openMesh(bytes, basename(path), cp);
}

async function readBytes(path: string): Promise<ArrayBuffer> {
  try {
    const bytes = await readFile(path);
    // Node may hand out a view into a shared pool; the reader wants the file's bytes and nothing else.
    return bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer;
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : '';
    const why =
      code === 'ENOENT'
        ? 'there is no such file'
        : code === 'EISDIR'
          ? 'it is a folder'
          : code === 'EACCES'
            ? 'it may not be read'
            : code === 'ERR_FS_FILE_TOO_LARGE'
              ? 'it is larger than 2 GB'
              : 'reading it failed';
    throw new MeshError('unknown-format', `${path} cannot be read: ${why}. Check the name and try again.`);
  }
}
