import { readFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import type { Checkpoint } from '../core/checkpoint.ts';
import { MeshError } from '../core/errors.ts';
import { newPlan } from '../core/plan/newPlan.ts';
import type { PlanDocument } from '../core/plan/PlanDocument.ts';
import { parsePlan } from '../core/plan/parsePlan.ts';
import type { OpenedMesh } from '../io/OpenedMesh.ts';
import { openMesh } from '../io/openMesh.ts';
import { readPlanBundle } from '../io/readPlanBundle.ts';

/** What a call works on: the plan (a new one for a bare scan) and its scan. */
export interface Job {
  readonly plan: PlanDocument;
  readonly scan: ScanFile;
}

/** A scan that is read when its turn comes. */
export interface ScanFile {
  readonly name: string;
  /** Throws MeshError when the disk does not give it. */
  readBytes(): Promise<ArrayBuffer>;
}

/**
 * A scan file with a new plan; a saved plan (a name that ends in .json) with the scan that it names, which lies beside it; or
 * both in one file (.scute). Throws MeshError for what cannot be read, PlanError for what holds no plan.
 */
export async function readJob(path: string): Promise<Job> {
  if (/\.scute$/i.test(path)) {
    const { planText, scanName, scanBytes } = await readPlanBundle(await readBytes(path), basename(path));
    const plan = parsePlan(parseJson(planText, `The plan in ${path}`));
    return { plan, scan: { name: scanName, readBytes: () => Promise.resolve(scanBytes) } };
  }
  if (!/\.json$/i.test(path)) return { plan: newPlan(basename(path)), scan: scanAt(path) };
  const plan = parsePlan(parseJson(new TextDecoder().decode(await readBytes(path)), path));
  // Only the last part of the name: a plan from elsewhere must not make the tool read any file it likes.
  return { plan, scan: scanAt(join(dirname(path), basename(plan.scan.file.replaceAll('\\', '/')))) };
}

/** The mesh in the file's own units, with what reading it had to say. Throws MeshError. */
export async function readMesh(scan: ScanFile, cp: Checkpoint): Promise<OpenedMesh> {
  return openMesh(await scan.readBytes(), scan.name, cp);
}

function scanAt(path: string): ScanFile {
  return { name: basename(path), readBytes: () => readBytes(path) };
}

function parseJson(text: string, what: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    const why = error instanceof Error ? error.message : '';
    throw new MeshError(
      'bad-value',
      `${what} cannot be read as a plan: it is not JSON (${why}). Open a plan that was saved here.`,
    );
  }
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
