const KEY = 'scute-plan';

/** The kept plan that this tab shows, by id: it outlasts a reload, not the tab. Null when nothing is known of it. */
export function readTabPlan(): string | null {
  try {
    return sessionStorage.getItem(KEY);
  } catch {
    // Blocked, or no browser: the plan that was open last anywhere stands in.
    return null;
  }
}

/** Remembers which kept plan this tab shows; null when it shows none. */
export function writeTabPlan(id: string | null): void {
  try {
    if (id === null) sessionStorage.removeItem(KEY);
    else sessionStorage.setItem(KEY, id);
  } catch {
    // As above.
  }
}
