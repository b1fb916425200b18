import { saveBlob } from '../saveBlob.ts';
import type { Workshop } from './Workshop.ts';

/** Hands plan and scan over as one file: the open job, or a kept one by its id. What goes wrong is told of in a notice. */
export async function saveBundle(workshop: Workshop, id: string | null = null): Promise<void> {
  const file = await workshop.bundle(id);
  if (file) saveBlob(file.name, new Blob([file.bytes], { type: 'application/zip' }));
}
