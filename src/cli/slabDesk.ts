import { parentPort } from 'node:worker_threads';
import { SlabDesk } from '../jobs/slabs/SlabDesk.ts';

/** A hand's entry in the command. */
const desk = new SlabDesk((message, transfer) => parentPort?.postMessage(message, transfer));

parentPort?.on('message', (message) => desk.receive(message));
