import { mkdir, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { CallError } from './CallError.ts';

/** What each file holds, by its name: text (written as UTF-8) or bytes. */
export type WholeFiles = Readonly<Record<string, string | Uint8Array>>;

/**
 * Writes files into a folder, which is made if need be. Each is written beside its place first; only when all are
 * whole do they take their names, so that a full disk or a cancel leaves no partial file. Throws CallError.
 */
export async function writeWhole(folder: string, files: WholeFiles): Promise<void> {
  const parts = Object.keys(files).map((name) => ({
    part: join(folder, `.${name}.${process.pid}.part`),
    target: join(folder, name),
    content: files[name],
  }));
  try {
    await mkdir(folder, { recursive: true });
    for (const { part, content } of parts) await writeFile(part, content);
    for (const { part, target } of parts) await rename(part, target);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new CallError(`--out ${folder}: the files cannot be written there (${why}).`);
  } finally {
    for (const { part } of parts) await rm(part, { force: true }).catch(() => {});
  }
}
