import { mkdtemp, rm } from 'node:fs/promises';
import { type AddressInfo, createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build, preview } from 'vite';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

export interface ServedPage {
  /** With the slash at its end. */
  readonly url: string;
  /** Where the built page lies. */
  readonly folder: string;
  close(): Promise<void>;
}

/**
 * Builds the page as it is shipped, into a folder of its own, and serves it on a free port of this machine. Own folder, so
 * that a test never overwrites, or takes for fresh, what `npm start` built.
 */
export async function servePage(): Promise<ServedPage> {
  const outDir = await mkdtemp(join(tmpdir(), 'scute-page-'));
  try {
    // The test runner's mode would otherwise find its way into the bundle.
    await build({ root: ROOT, mode: 'production', logLevel: 'warn', build: { outDir, emptyOutDir: true } });
    const server = await preview({
      root: ROOT,
      mode: 'production',
      logLevel: 'warn',
      build: { outDir },
      preview: { host: '127.0.0.1', port: await freePort(), strictPort: true },
    });
    const url = server.resolvedUrls?.local[0];
    if (!url) throw new Error('The preview server told no address.');
    return {
      url,
      folder: outDir,
      close: async () => {
        await server.close();
        await rm(outDir, { recursive: true, force: true });
      },
    };
  } catch (error) {
    await rm(outDir, { recursive: true, force: true });
    throw error;
  }
}

/** Asked of the system, so that two runs on one machine do not meet. */
function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const { port } = probe.address() as AddressInfo;
      probe.close(() => resolve(port));
    });
  });
}
