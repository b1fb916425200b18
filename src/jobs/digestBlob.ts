/**
 * A name for bytes that equal bytes share: their SHA-256 (FIPS 180-4), in hexadecimal, by a worker of its own. Null where the
 * browser has no digest, as on a page without https, or cannot start the worker.
 */
export async function digestBlob(bytes: Blob): Promise<string | null> {
  if (!globalThis.crypto?.subtle) return null;
  const worker = new Worker(new URL('./digestWorker.ts', import.meta.url), { type: 'module' });
  try {
    return await new Promise<string | null>((resolve) => {
      worker.onmessage = ({ data }: MessageEvent<string>) => resolve(data);
      worker.onerror = () => resolve(null);
      worker.postMessage(bytes);
    });
  } finally {
    worker.terminate();
  }
}
