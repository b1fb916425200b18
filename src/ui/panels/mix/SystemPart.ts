import { property, state } from 'lit/decorators.js';
import type { MaterialSystem } from '../../../core/material/MaterialSystem.ts';
import {
  changeSystem,
  type SystemChange,
  type SystemSlot,
  systemIn,
  whyRefused,
} from '../../../session/materialActions.ts';
import type { SessionState } from '../../../session/SessionStore.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { LateElement } from '../../parts/LateElement.ts';
import { askEdit } from './askEdit.ts';

/** What the elements that edit one of the plan's systems have in common: which one, and how a change is asked for. */
export abstract class SystemPart extends LateElement {
  @property({ attribute: false }) session!: SessionState;
  @property({ attribute: false }) slotOf: SystemSlot = 'shell';
  /** Why the latest change was not taken, or ''. */
  @state() protected refusal = '';

  protected get edited(): MaterialSystem {
    return systemIn(this.session.plan, this.slotOf);
  }

  /** Asks for the change, or says why it cannot be. */
  protected change(change: SystemChange, event?: ValueEvent<unknown>, gesture = ''): void {
    this.refusal = whyRefused(this.session.plan, this.slotOf, change) ?? '';
    if (this.refusal !== '') {
      // What was typed stays in the field otherwise, though the plan does not hold it.
      this.requestUpdate();
      return;
    }
    askEdit(this, changeSystem(this.slotOf, change), event, gesture);
  }
}
