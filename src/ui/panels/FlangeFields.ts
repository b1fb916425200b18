import { html, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { setFlange, switchFlange } from '../../session/partingActions.ts';
import type { PlanEdit, SessionState } from '../../session/SessionStore.ts';
import { PlanEditEvent } from '../events.ts';
import type { ValueEvent } from '../fields/ValueEvent.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { panelStyles } from './panelStyles.ts';
import '../fields/LengthField.ts';

/** The flange along every line: whether, how wide, how thick. */
@customElement('scute-flange')
export class FlangeFields extends LitElement {
  static override styles = [sharedStyles, panelStyles];

  @property({ attribute: false }) session!: SessionState;

  override render() {
    const { plan, prefs } = this.session;
    const { flange } = plan.parting;
    return html`
      <label class="check">
        <input type="checkbox" .checked=${flange !== null} @change=${() => this.edit(switchFlange())} />
        A flange along every line
      </label>
      ${
        flange === null
          ? html`<p class="small soft">Without one there is nothing to clamp or bolt.</p>`
          : html`<div class="fields">
            <scute-length-field
              label="Width, from the rubber"
              .mm=${flange.widthMm}
              .system=${prefs.units}
              @value=${(e: ValueEvent<number>) =>
                this.edit(setFlange({ ...flange, widthMm: e.value }), e.isGesture ? 'flange-width' : null)}
            ></scute-length-field>
            <scute-length-field
              label="Thickness, each side"
              .mm=${flange.thicknessMm}
              .system=${prefs.units}
              @value=${(e: ValueEvent<number>) =>
                this.edit(
                  setFlange({ ...flange, thicknessMm: e.value }),
                  e.isGesture ? 'flange-thickness' : null,
                )}
            ></scute-length-field>
          </div>`
      }
    `;
  }

  private edit(edit: PlanEdit, gesture: string | null = null): void {
    this.dispatchEvent(new PlanEditEvent(edit, gesture));
  }
}
