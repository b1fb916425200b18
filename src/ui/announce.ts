/** Whoever says aloud what is announced: the page's one live region. */
const listeners = new Set<(text: string) => void>();

/**
 * Says a sentence to whoever listens instead of looking, politely: after what is being read. For what is seen anyway and has
 * no element of its own that says it (a point was set, a plan was copied). Nothing is shown.
 */
export function announce(text: string): void {
  for (const listener of listeners) listener(text);
}

/** Calls `listener` with every sentence announced from now on. Returns the way to stop it. */
export function hearAnnouncements(listener: (text: string) => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}
