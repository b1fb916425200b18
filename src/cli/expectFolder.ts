import { stat } from 'node:fs/promises';
import { CallError } from './CallError.ts';

/** Looked at before the long part of a call: throws CallError when `--out` names no folder, or something that is none. */
export async function expectFolder(folder: string): Promise<void> {
  if (folder.trim() === '') throw new CallError('--out: no folder was named. Give one, like --out shell.');
  const found = await stat(folder).catch((error: NodeJS.ErrnoException) => {
    if (error.code !== 'ENOTDIR') return null;
    throw new CallError(`--out ${folder}: a part of this path is a file, not a folder. Name another.`);
  });
  if (found !== null && !found.isDirectory()) {
    throw new CallError(`--out ${folder}: this is a file, and a folder is needed. Name another.`);
  }
}
