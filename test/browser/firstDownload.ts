import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';

export interface FirstDownload {
  /** Scripts and styles that the page asks for before it shows itself, gzipped, bytes. */
  readonly pageBytes: number;
  /** The largest script that it starts afterwards: the worker with its kernels, gzipped, bytes. */
  readonly workerBytes: number;
}

/** Own arithmetic over a built page: every script and style that index.html names, and what those import at once. */
export async function firstDownload(dist: string): Promise<FirstDownload> {
  const html = await readFile(join(dist, 'index.html'), 'utf8');
  const wanted = [...html.matchAll(/(?:src|href)="\/(assets\/[^"]+\.(?:js|css))"/g)].map((match) => match[1]);
  const met = new Set<string>();
  while (wanted.length > 0) {
    const name = wanted.pop();
    if (name === undefined || met.has(name)) continue;
    met.add(name);
    if (!name.endsWith('.js')) continue;
    const code = await readFile(join(dist, name), 'utf8');
    for (const match of code.matchAll(/(?:from|import)\s*["']\.\/([^"']+\.js)["']/g))
      wanted.push(`assets/${match[1]}`);
  }
  const bytesOf = async (name: string): Promise<number> =>
    gzipSync(await readFile(join(dist, name)), { level: 9 }).length;
  const sizes = await Promise.all([...met].map(bytesOf));
  const worker = (await readdir(join(dist, 'assets'))).find((name) => /^worker-.*\.js$/.test(name));
  return {
    pageBytes: gzipSync(html, { level: 9 }).length + sizes.reduce((sum, bytes) => sum + bytes, 0),
    workerBytes: worker === undefined ? 0 : await bytesOf(`assets/${worker}`),
  };
}
