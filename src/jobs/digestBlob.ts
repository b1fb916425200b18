/** A worker that was killed says nothing; no scan takes so long, ms. */
const PATIENCE_MS = 20_000;

/**
 * A name for bytes that equal bytes share: their SHA-256 (FIPS 180-4), in hexadecimal, by a worker of its own. Null where the
 * browser has no digest, as on a page without https, or the worker does not start or does not answer.
 */
export async function digestBlob(bytes: Blob): Promise<string | null> {
  if (!globalThis.crypto?.subtle) return null;
  const worker = new Worker(new URL('./digestWorker.ts', import.meta.url), { type: 'module' });
  let timer: ReturnType<typeof setTimeout> | undefined;
  try {
    return await new Promise<string | null>((resolve) => {
      worker.onmessage = ({ data }: MessageEvent<string>) => resolve(data);
      worker.onerror = () => resolve(null);
      timer = setTimeout(() => resolve(null), PATIENCE_MS);
      worker.postMessage(bytes);
    });
  } finally {
    clearTimeout(timer);
    worker.terminate();
  }
}
