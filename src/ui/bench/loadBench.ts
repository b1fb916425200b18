let loading: Promise<unknown> | null = null;

/**
 * Fetches the bench when it is first wanted: who only plans never loads it. Resolves at once when it is there; one that
 * failed is tried again at the next call.
 */
export async function loadBench(): Promise<void> {
  loading ??= import('./BenchScreen.ts');
  try {
    await loading;
  } catch (error) {
    loading = null;
    throw error;
  }
}

/** Whether `scute-bench` can be put on the page. */
export function isBenchLoaded(): boolean {
  return customElements.get('scute-bench') !== undefined;
}
