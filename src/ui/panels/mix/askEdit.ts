import type { PlanEdit } from '../../../session/SessionStore.ts';
import { PlanEditEvent } from '../../events.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';

/** Asks for a change of the plan on behalf of an element. `event` says whether it is a step of a drag, which `gesture` names. */
export function askEdit(from: HTMLElement, edit: PlanEdit, event?: ValueEvent<unknown>, gesture = ''): void {
  from.dispatchEvent(new PlanEditEvent(edit, event?.isGesture ? gesture : null));
}
