import { html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { formatMass, formatVolume } from '../../../core/units.ts';
import type { PlanEdit, SessionState } from '../../../session/SessionStore.ts';
import { setRubberThickness, setScanIs } from '../../../session/scanActions.ts';
import { PlanEditEvent } from '../../events.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { sayBound } from '../../sayAmounts.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import '../../fields/ChoiceField.ts';
import '../../fields/LengthField.ts';

/** Whether the rubber was scanned or the bare pattern, and how thick the rubber over it will be. */
@customElement('scute-kind-fields')
export class KindFields extends LitElement {
  static override styles = [sharedStyles, panelStyles];

  @property({ attribute: false }) session!: SessionState;

  override render() {
    const { plan, prefs } = this.session;
    return html`
      <h3>What was scanned</h3>
      <scute-choice
        label="What was scanned"
        bare
        .options=${[{ value: 'rubber', text: 'the rubber' }, { value: 'pattern', text: 'the bare pattern' }]}
        .value=${plan.scan.is}
        @value=${(e: ValueEvent<string>) => this.edit(setScanIs(e.value as 'rubber' | 'pattern'))}
      ></scute-choice>
      ${
        plan.scan.is === 'pattern'
          ? html`<div class="stack">
            <scute-length-field
              label="Rubber over it"
              .mm=${plan.scan.rubberMm}
              .system=${prefs.units}
              @value=${(e: ValueEvent<number>) => this.edit(setRubberThickness(e.value))}
            ></scute-length-field>
          </div>`
          : nothing
      }
      ${this.renderLayer()}
    `;
  }

  private renderLayer() {
    const layer = this.session.answer?.result.rubber.layer;
    if (!layer) return nothing;
    const { units } = this.session.prefs;
    return html`<dl class="facts">
      <div>
        <dt>Rubber to mix</dt>
        <dd>
          ${formatVolume(layer.volumeMm3, units)}, ${formatMass(layer.massG, units)}
          <div class="small soft">${sayBound(layer.volumeErrorMm3, layer.volumeMm3, 'volume', units)}</div>
        </dd>
      </div>
    </dl>`;
  }

  private edit(edit: PlanEdit): void {
    this.dispatchEvent(new PlanEditEvent(edit));
  }
}
