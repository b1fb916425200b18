import { execFile } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { mkdtemp, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { promisify } from 'node:util';

const run = promisify(execFile);

/** A browser binary and what must stand in the environment for it to start. */
export interface ChromiumPlace {
  readonly path: string;
  readonly env: Readonly<Record<string, string>>;
}

/**
 * The package unpacks its shared libraries only where it believes itself on a rented server of this kind. They are what
 * a bare machine lacks too, so it is told so, in a process of its own that nothing else of ours runs in.
 */
const UNPACK_LIBRARIES_ENV = { AWS_EXECUTION_ENV: 'AWS_Lambda_nodejs20.x' };

const UNPACK_SCRIPT = `import('@sparticuz/chromium')
  .then((m) => m.default.executablePath())
  .then((path) => process.stdout.write(path))
  .catch((error) => { console.error(error.message); process.exit(1); });`;

const FONTS_FILE = 'scute-fonts.conf';

/**
 * Unpacks the Chromium that came with the development packages (Linux, x64) into the machine's temporary folder, once for
 * each version, and says how to start it. Unpacking goes to a folder beside the target that is renamed when whole, so that
 * two test runs at once, or one that is stopped, leave nothing half-written.
 *
 * Throws an Error that says why there is none. Cost: about 5 s and 250 MB of disk the first time.
 */
export async function unpackChromium(): Promise<ChromiumPlace> {
  if (process.platform !== 'linux' || process.arch !== 'x64') {
    throw new Error(
      `the packaged Chromium is for Linux on x64, this is ${process.platform} on ${process.arch}`,
    );
  }
  const packageFile = await findPackageFile();
  const stamp = createHash('sha256')
    .update(await readFile(packageFile))
    .digest('hex')
    .slice(0, 12);
  const home = join(tmpdir(), `scute-chromium-${stamp}-${process.getuid?.() ?? 0}`);
  if (!existsSync(join(home, 'chromium'))) await unpackInto(home, dirname(packageFile));
  const path = join(home, 'chromium');
  return { path, env: await environmentFor(path, home) };
}

async function findPackageFile(): Promise<string> {
  // The package exports no package.json, so its entry is resolved and its folder climbed to.
  const entry = createRequire(import.meta.url).resolve('@sparticuz/chromium');
  for (let folder = dirname(entry); folder !== dirname(folder); folder = dirname(folder)) {
    const file = join(folder, 'package.json');
    if (existsSync(file) && existsSync(join(folder, 'bin'))) return file;
  }
  throw new Error(`no package folder above ${entry}`);
}

async function unpackInto(home: string, packageFolder: string): Promise<void> {
  const half = await mkdtemp(`${home}-`);
  try {
    await run(process.execPath, ['--input-type=module', '-e', UNPACK_SCRIPT], {
      cwd: packageFolder,
      env: { ...process.env, ...UNPACK_LIBRARIES_ENV, TMPDIR: half, HOME: half },
    });
    await writeFile(join(half, FONTS_FILE), fontsConfig(home));
    await rename(half, home);
  } catch (error) {
    // Another run may have been first; then its folder is as good.
    if (!existsSync(join(home, 'chromium'))) throw error;
  } finally {
    await rm(half, { recursive: true, force: true });
  }
}

/** The machine's own libraries and fonts where it has them; what came with the package only where it lacks them. */
async function environmentFor(path: string, home: string): Promise<Record<string, string>> {
  const env: Record<string, string> = {};
  const missing = await missingLibraries(path);
  if (missing.length > 0) {
    const lib = join(home, 'al2023', 'lib');
    env['LD_LIBRARY_PATH'] = [lib, process.env['LD_LIBRARY_PATH']].filter(Boolean).join(':');
    const still = await missingLibraries(path, env);
    if (still.length > 0) {
      throw new Error(
        `the packaged Chromium lacks ${still.join(', ')}, which neither this machine nor the package has`,
      );
    }
  }
  if (!existsSync('/etc/fonts/fonts.conf')) env['FONTCONFIG_FILE'] = join(home, FONTS_FILE);
  return env;
}

/** The package's own list of font folders names places of the rented server only. */
function fontsConfig(home: string): string {
  return `<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
  <dir>${join(home, 'fonts')}</dir>
  <cachedir>${join(home, 'fonts-cache')}</cachedir>
</fontconfig>
`;
}

/** Names of shared libraries that the loader does not find. */
async function missingLibraries(path: string, env: Record<string, string> = {}): Promise<string[]> {
  const { stdout } = await run('ldd', [path], { env: { ...process.env, ...env } });
  return stdout
    .split('\n')
    .filter((line) => line.includes('not found'))
    .map((line) => line.trim().split(' ')[0]);
}
