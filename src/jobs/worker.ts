import { JobTable } from './JobTable.ts';
import type { FromWorker, ToWorker } from './messages.ts';
import { SlabPool } from './slabs/SlabPool.ts';
import { startSlabWorker } from './slabs/startSlabWorker.ts';
import { transferablesOf } from './transferablesOf.ts';

/** Worker entry: messages in, messages out. All work is done by the job table. */
const scope = self as unknown as {
  readonly name: string;
  onmessage: ((event: MessageEvent<ToWorker>) => void) | null;
  onmessageerror: (() => void) | null;
  onunhandledrejection: ((event: { readonly reason: unknown }) => void) | null;
  postMessage(message: FromWorker, transfer: Transferable[]): void;
};

/** Threads that work on a field, this one among them. */
const THREADS = 2;

const hasRoom = typeof Worker === 'function' && navigator.hardwareConcurrency >= THREADS;
const slabs = hasRoom ? new SlabPool(startSlabWorker, THREADS - 1) : undefined;

const table = new JobTable((message) => scope.postMessage(message, transferablesOf(message)), slabs);

scope.onmessage = (event) => table.receive(event.data);

// Whatever nobody caught is thrown where the page hears of it: a promise that was rejected unheard is no error there, and a
// job would be waited for in vain.
scope.onmessageerror = () => {
  throw new Error('a message could not be taken in; it may be too large for the memory');
};
scope.onunhandledrejection = ({ reason }) => {
  throw reason;
};

// A browser that ends a worker says so to nobody, but it lets go of the worker's locks. Held until then.
const locks = navigator.locks as LockManager | undefined;
locks
  ?.request(scope.name, () => {
    scope.postMessage({ kind: 'up' }, []);
    return new Promise(() => {});
  })
  // Where locks are refused the page goes by silence alone.
  .catch(() => {});
