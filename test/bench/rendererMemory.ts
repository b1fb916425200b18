import { readdirSync, readFileSync } from 'node:fs';

/**
 * The most memory, MB, that any tab's process of a browser started by this process has held so far: page and workers together.
 * Null where the machine does not tell (only Linux does).
 */
export function rendererPeakMb(): number | null {
  let most: number | null = null;
  for (const pid of processesBelow(process.pid)) {
    if (!read(`/proc/${pid}/cmdline`).includes('--type=renderer')) continue;
    const peak = /VmHWM:\s+(\d+) kB/.exec(read(`/proc/${pid}/status`));
    if (peak) most = Math.max(most ?? 0, Math.round(Number(peak[1]) / 1024));
  }
  return most;
}

function processesBelow(root: number): number[] {
  const parents = new Map<number, number>();
  for (const name of list('/proc')) {
    const parent = /PPid:\s+(\d+)/.exec(read(`/proc/${name}/status`));
    if (parent) parents.set(Number(name), Number(parent[1]));
  }
  const isBelow = (pid: number): boolean => {
    for (let at = parents.get(pid); at !== undefined && at > 0; at = parents.get(at))
      if (at === root) return true;
    return false;
  };
  return [...parents.keys()].filter(isBelow);
}

function list(folder: string): string[] {
  try {
    return readdirSync(folder).filter((name) => /^\d+$/.test(name));
  } catch {
    return [];
  }
}

/** Empty where there is no such file, or its process has just ended. */
function read(path: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return '';
  }
}
