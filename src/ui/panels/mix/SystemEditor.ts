import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { FinishedJob } from '../../../session/FinishedJob.ts';
import { addAdditive } from '../../../session/materialActions.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import { lotsOf } from './lotsOf.ts';
import { mixStyles } from './mixStyles.ts';
import { SystemPart } from './SystemPart.ts';
import '../../fields/TextField.ts';
import './AdditiveFields.ts';
import './ComponentFields.ts';
import './LossFields.ts';
import './LotFields.ts';
import './ReinforcementFields.ts';
import './TimeFields.ts';

/** Every value of one of the plan's systems, each with where it comes from. */
@customElement('scute-system-editor')
export class SystemEditor extends SystemPart {
  static override styles = [sharedStyles, panelStyles, mixStyles];

  /** What finished jobs measured, by system. */
  @property({ attribute: false }) jobs: readonly FinishedJob[] = [];
  @state() private newName = '';

  override render() {
    const system = this.edited;
    const { session, slotOf } = this;
    return html`
      ${system.components.map(
        (_, i) =>
          html`<scute-component-fields .session=${session} .slotOf=${slotOf} .index=${i}></scute-component-fields>`,
      )}
      ${system.additives.map(
        (_, i) =>
          html`<scute-additive-fields .session=${session} .slotOf=${slotOf} .index=${i}></scute-additive-fields>`,
      )}
      <scute-reinforcement-fields .session=${session} .slotOf=${slotOf}></scute-reinforcement-fields>
      <scute-time-fields .session=${session} .slotOf=${slotOf}></scute-time-fields>
      <scute-loss-fields .session=${session} .slotOf=${slotOf}></scute-loss-fields>
      <scute-lot-fields
        .session=${session}
        .slotOf=${slotOf}
        .remembered=${lotsOf(this.jobs, system.id)}
      ></scute-lot-fields>
      <details class="group">
        <summary><span class="title">Another additive</span></summary>
        <div class="inside stack">
          <scute-text-field
            label="Its name"
            optional
            .value=${this.newName}
            @value=${(e: ValueEvent<string>) => {
              this.newName = e.value;
            }}
          ></scute-text-field>
          <div class="row">
            <button ?disabled=${this.newName === ''} @click=${this.addNamed}>Add it to the system</button>
          </div>
        </div>
      </details>
      ${this.refusal ? html`<p class="problem" role="alert">${this.refusal}</p>` : nothing}
    `;
  }

  private addNamed(): void {
    this.change(addAdditive(this.newName));
    if (this.refusal === '') this.newName = '';
  }
}
