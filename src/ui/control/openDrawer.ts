import type { Workshop } from './Workshop.ts';

/** Opens the plan drawer; its elements are a part of their own, fetched when they are first wanted. */
export async function openDrawer(workshop: Workshop): Promise<void> {
  try {
    await import('../drawer/PlanDrawer.ts');
  } catch {
    workshop.store.notify(
      'drawer',
      'problem',
      'The plan drawer could not be loaded. Is the network gone? Go online once and try again; after that it works without.',
    );
    return;
  }
  workshop.store.dismiss('drawer');
  await workshop.drawer.open();
}
