import { type Browser, chromium } from 'playwright-core';
import { findChromium } from './findChromium.ts';

/** How the browser is started, whoever installed it. */
const FLAGS = [
  // Tests run as root in containers, where the sandbox cannot be set up. Only our own page is ever opened.
  '--no-sandbox',
  // WebGL on the processor: the same picture on every machine, none needs a graphics card.
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
  // Containers often give /dev/shm 64 MB, too little for a large picture.
  '--disable-dev-shm-usage',
  // Nothing but the page may want the network, so that every request that is seen is the page's.
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** A headless Chromium with WebGL. The caller closes it. Throws an Error with advice when none is found or it will not start. */
export async function launchBrowser(): Promise<Browser> {
  const { path, env } = await findChromium();
  try {
    return await chromium.launch({
      executablePath: path,
      args: FLAGS,
      env: { ...(process.env as Record<string, string>), ...env },
    });
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new Error(`The browser at ${path} did not start: ${why}`);
  }
}
