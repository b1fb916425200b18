import { saveBlob } from '../saveBlob.ts';
import type { Workshop } from './Workshop.ts';

/** Hands the plan over as a file; a plan that cannot be written is told of in a notice. */
export function savePlan(workshop: Workshop): void {
  try {
    const { name, text } = workshop.planFile();
    saveBlob(name, new Blob([text], { type: 'application/json' }));
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    workshop.store.notify('save', 'problem', `The plan was not saved. ${why}`);
  }
}
