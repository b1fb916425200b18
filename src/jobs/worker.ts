import { JobTable } from './JobTable.ts';
import type { ToPage, ToWorker } from './messages.ts';
import { transferablesOf } from './transferablesOf.ts';

/** Worker entry: messages in, messages out. All work is done by the job table. */
const scope = self as unknown as {
  onmessage: ((event: MessageEvent<ToWorker>) => void) | null;
  postMessage(message: ToPage, transfer: Transferable[]): void;
};

const table = new JobTable((message) => scope.postMessage(message, transferablesOf(message)));

scope.onmessage = (event) => table.receive(event.data);
