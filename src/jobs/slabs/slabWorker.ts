import { SlabDesk } from './SlabDesk.ts';
import type { FromHand, ToHand } from './slabMessages.ts';

/** A hand's entry in the page. */
const scope = self as unknown as {
  onmessage: ((event: MessageEvent<ToHand>) => void) | null;
  postMessage(message: FromHand, transfer: Transferable[]): void;
};

const desk = new SlabDesk((message, transfer) => scope.postMessage(message, transfer));

scope.onmessage = (event) => desk.receive(event.data);
