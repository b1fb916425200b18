import type { FromHand, HandThread } from './slabMessages.ts';

/** A hand of the page's worker: a worker of that worker. */
export function startSlabWorker(): HandThread {
  const worker = new Worker(new URL('./slabWorker.ts', import.meta.url), { type: 'module', name: 'slab' });
  const thread: HandThread = {
    postMessage: (message) => worker.postMessage(message),
    terminate: () => worker.terminate(),
    onmessage: null,
    onlost: null,
  };
  worker.onmessage = (event: MessageEvent<FromHand>) => thread.onmessage?.(event.data);
  worker.onerror = (event) => {
    event.preventDefault();
    worker.terminate();
    thread.onlost?.();
  };
  return thread;
}
