#!/usr/bin/env node
import { SlabPool } from '../jobs/slabs/SlabPool.ts';
import { EXIT } from './exitCodes.ts';
import { runCommand } from './runCommand.ts';
import { spareThreads } from './spareThreads.ts';
import { startSlabThread } from './startSlabThread.ts';

const cancel = new AbortController();
// A second interrupt finds no listener and ends the process the hard way.
process.once('SIGINT', () => cancel.abort());
// A reader that has seen enough, such as `head`, closes the pipe: that is no failure.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  process.exit(error.code === 'EPIPE' ? EXIT.answered : EXIT.defect);
});

process.exitCode = await runCommand(process.argv.slice(2), {
  out: process.stdout,
  err: process.stderr,
  signal: cancel.signal,
  slabs: new SlabPool(startSlabThread, spareThreads()),
});
