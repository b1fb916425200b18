import { mkdir, readdir, rename, rm, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { CallError } from './CallError.ts';

/** What each file holds, by its name: text (written as UTF-8) or bytes. */
export type WholeFiles = Readonly<Record<string, string | Uint8Array>>;

/**
 * Writes files into a folder, which is made if need be. Each is written beside its place first; only when all are
 * whole do they take their names, so that a full disk, a cancel or a kill leaves no partial file. What a killed call left
 * beside them is cleared away. Throws CallError.
 */
export async function writeWhole(folder: string, files: WholeFiles): Promise<void> {
  const parts = Object.keys(files).map((name) => ({
    part: join(folder, `.${name}.${process.pid}.part`),
    target: join(folder, name),
    content: files[name],
  }));
  try {
    await mkdir(folder, { recursive: true });
    await clearLeftovers(folder);
    for (const { part, content } of parts) await writeFile(part, content);
    for (const { target } of parts) await refuseFolder(target);
    for (const { part, target } of parts) await rename(part, target);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new CallError(`--out ${folder}: the files cannot be written there (${why}).`);
  } finally {
    for (const { part } of parts) await rm(part, { force: true }).catch(() => {});
  }
}

/** ".sheet.html.4711.part": what this file writes beside the targets, with the number of the process that does. */
const LEFTOVER = /^\..+\.(\d+)\.part$/;

/** Takes away what calls that were killed left in the folder; a call that still runs keeps its own. */
async function clearLeftovers(folder: string): Promise<void> {
  for (const name of await readdir(folder)) {
    const match = LEFTOVER.exec(name);
    if (match && !isRunning(Number(match[1]))) await rm(join(folder, name), { force: true });
  }
}

function isRunning(pid: number): boolean {
  try {
    // Signal 0 is not sent; it only asks.
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error instanceof Error && 'code' in error && error.code === 'EPERM';
  }
}

/** A folder in a file's place would stop the renaming half way. */
async function refuseFolder(target: string): Promise<void> {
  const found = await stat(target).catch(() => null);
  if (found?.isDirectory())
    throw new Error(`${target} is a folder, and a file of that name is to be written`);
}
