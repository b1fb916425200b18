import type { SessionStore } from '../../session/SessionStore.ts';

/**
 * Has the browser keep the page's own files, so that it works without a network from the second visit on. A newer version is
 * fetched beside the one in use and starts when every window of the page has been closed: never in the middle of work.
 * Does nothing where the browser keeps no pages (private windows, plain http).
 */
export async function keepOffline(store: SessionStore): Promise<void> {
  // By the mode, which a test's build sets as the shipped one does; the server for development has no such file.
  if (import.meta.env.MODE !== 'production' || !('serviceWorker' in navigator)) return;
  const before = navigator.serviceWorker.controller;
  try {
    const kept = await navigator.serviceWorker.register('./sw.js', { scope: './' });
    // Undefined where something stands in for the browser's own.
    kept?.addEventListener('updatefound', () => {
      const coming = kept.installing;
      coming?.addEventListener('statechange', () => {
        if (coming.state !== 'installed' || before === null) return;
        store.notify('version', 'note', 'A new version is ready; it starts with the next visit.');
      });
    });
  } catch {
    // A refusal costs nothing but the offline start; the browser's own console has said why.
  }
}
