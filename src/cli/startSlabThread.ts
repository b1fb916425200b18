import { Worker } from 'node:worker_threads';
import type { FromHand, HandThread } from '../jobs/slabs/slabMessages.ts';

/** A hand of the command: a thread that does not keep it from ending. */
export function startSlabThread(): HandThread {
  const worker = new Worker(new URL('./slabThread.mjs', import.meta.url));
  const thread: HandThread = {
    postMessage: (message) => worker.postMessage(message),
    terminate: () => void worker.terminate(),
    onmessage: null,
    onlost: null,
  };
  worker.on('message', (message: FromHand) => thread.onmessage?.(message));
  // The work is done without it: what the thread had to say is nobody's.
  worker.on('error', () => thread.onlost?.());
  worker.on('exit', () => thread.onlost?.());
  // After the listeners, which would hold the command back again.
  worker.unref();
  return thread;
}
