import { startSlabThread } from '../../src/cli/startSlabThread.ts';
import { Checkpoint } from '../../src/core/checkpoint.ts';
import { makeBandSource } from '../../src/core/field/BandSource.ts';
import { makeField } from '../../src/core/field/slabs/makeField.ts';
import { SlabPool } from '../../src/jobs/slabs/SlabPool.ts';
import type { HandThread } from '../../src/jobs/slabs/slabMessages.ts';
import { preparedFromMesh } from '../core/parting/preparedFromMesh.ts';
import { octasphere } from '../fixtures/shapes.ts';

/** Run as the command is: says what a thread of the command answered while a field was made that is worth two. */
const heard: string[] = [];
const spied = (): HandThread => {
  const thread = startSlabThread();
  return {
    postMessage: (message) => thread.postMessage(message),
    terminate: () => thread.terminate(),
    set onmessage(hear: HandThread['onmessage']) {
      thread.onmessage = (message) => {
        heard.push(message.kind);
        hear?.(message);
      };
    },
    set onlost(hear: HandThread['onlost']) {
      thread.onlost = hear;
    },
  };
};

const pool = new SlabPool(spied, 1);
pool.wake();
// The thread must not be overtaken by this one.
while (!heard.includes('ready')) await new Promise((resolve) => setTimeout(resolve, 10));
const source = makeBandSource(preparedFromMesh(octasphere(100, 24), false));
const order = { cellMm: 2, bandMm: 8, isClosed: true, knotMm: 1, knotCount: 9 };
await makeField(source, order, pool, new Checkpoint());
console.log(heard.join(' '));
