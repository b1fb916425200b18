import { html, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { PlanEdit, SessionState } from '../../session/SessionStore.ts';
import { setJobName, setShopName } from '../../session/scanActions.ts';
import { CommandEvent, PlanEditEvent } from '../events.ts';
import type { ValueEvent } from '../fields/ValueEvent.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { panelStyles } from './panelStyles.ts';
import '../fields/TextField.ts';

/** Stage 5: names for the sheet, and its ways out of the page. */
@customElement('scute-sheet-panel')
export class SheetPanel extends LitElement {
  static override styles = [sharedStyles, panelStyles];

  @property({ attribute: false }) session!: SessionState;

  override render() {
    const { plan, answer } = this.session;
    return html`
      <h2>Sheet</h2>
      <p class="lead">What the plan knows now, to hang on the wall. The picture is the view you last looked at.</p>
      <div class="stack">
        <scute-text-field
          label="Job"
          .value=${plan.job.name}
          @value=${(e: ValueEvent<string>) => this.edit(setJobName(e.value))}
        ></scute-text-field>
        <scute-text-field
          label="Shop"
          optional
          .value=${plan.job.shop}
          @value=${(e: ValueEvent<string>) => this.edit(setShopName(e.value))}
        ></scute-text-field>
      </div>
      <div class="row actions">
        <button class="primary" ?disabled=${!answer} @click=${() => this.ask({ do: 'print' })}>Print</button>
        <button ?disabled=${!answer} @click=${() => this.ask({ do: 'save-plan' })}>Save the plan</button>
      </div>
      <h3>Not on it yet</h3>
      <p class="soft">
        Batches, shopping, costs, the day's timing, undercuts and the load on the fasteners are not worked out by this
        version. The sheet leaves them out rather than guess.
      </p>
    `;
  }

  private edit(edit: PlanEdit): void {
    this.dispatchEvent(new PlanEditEvent(edit));
  }

  private ask(command: CommandEvent['command']): void {
    this.dispatchEvent(new CommandEvent(command));
  }
}
