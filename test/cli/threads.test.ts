import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { expect, it } from 'vitest';

// In a process of its own, started as the command is: what reads TypeScript there must do so in its threads as well.
it('a thread of the command makes its slab, and does not keep the command from ending', async () => {
  const script = new URL('askHand.ts', import.meta.url).pathname;
  const { stdout } = await promisify(execFile)(process.execPath, ['--import', 'tsx', script], {
    timeout: 60_000,
  });
  expect(stdout.trim()).toBe('ready done');
}, 70_000);
