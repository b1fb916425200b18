import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';
import { type ChromiumPlace, unpackChromium } from './unpackChromium.ts';

/** Names under which distributions install a Chromium, the plainest first. */
const INSTALLED_NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'];

/**
 * The browser that tests drive, found without a download: the one that SCUTE_CHROMIUM names, else one that is installed,
 * else the one that came with the development packages. Throws an Error that says what to do when there is none: a test
 * that needs a browser fails then, it is never passed over.
 */
export async function findChromium(): Promise<ChromiumPlace> {
  const named = process.env['SCUTE_CHROMIUM'];
  if (named) {
    if (isExecutable(named)) return { path: named, env: {} };
    throw new Error(
      `SCUTE_CHROMIUM names ${named}, which is no program that can be started. Mend it or unset it.`,
    );
  }
  for (const folder of (process.env['PATH'] ?? '').split(delimiter)) {
    for (const name of INSTALLED_NAMES) {
      const path = join(folder, name);
      if (folder !== '' && isExecutable(path)) return { path, env: {} };
    }
  }
  try {
    return await unpackChromium();
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new Error(
      `No browser was found for the browser tests: ${INSTALLED_NAMES.join(', ')} are not on the PATH, and ${why}. Install one, or set SCUTE_CHROMIUM to the path of a Chromium.`,
    );
  }
}

function isExecutable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}
