import { MeshError } from '../core/errors.ts';

/** The file was read, but no plan can be made of its mesh: exit 4. */
export class NoPlanError extends Error {
  override readonly name = 'NoPlanError';
}

/** The same promise, except that a MeshError after the reading is no longer the file's fault but the plan's end. */
export async function afterReading<T>(work: Promise<T>): Promise<T> {
  try {
    return await work;
  } catch (error) {
    if (error instanceof MeshError) throw new NoPlanError(error.message);
    throw error;
  }
}
