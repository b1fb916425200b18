import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { LengthUnit } from '../../../core/plan/PlanDocument.ts';
import { LENGTH_UNITS } from '../../../session/planChoices.ts';
import { isStale, type PlanEdit, type SessionState } from '../../../session/SessionStore.ts';
import { setScale, setTrueLength, setUnit } from '../../../session/scanActions.ts';
import { PlanEditEvent, PrefsEvent } from '../../events.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { chooseScaleFigure } from '../../figure/scaleFigures.ts';
import { sayBothLengths } from '../../sayLengths.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { unitNow } from '../../unitNow.ts';
import { panelStyles } from '../panelStyles.ts';
import '../../fields/ChoiceField.ts';
import '../../fields/LengthField.ts';
import '../../fields/NumberField.ts';

/** What the file's numbers mean: its unit, or the height that the mould really has. */
@customElement('scute-unit-fields')
export class UnitFields extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      .fields.low {
        align-items: end;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;

  override render() {
    const { plan, answer, prefs } = this.session;
    const height = answer?.result.rubber.heightMm ?? null;
    const options = [{ value: 'auto', text: 'guess' }, ...LENGTH_UNITS.map((u) => ({ value: u, text: u }))];
    return html`
      <h3>Unit</h3>
      <scute-choice
        label="Unit of the file"
        bare
        .options=${options}
        .value=${plan.scan.unit}
        @value=${(e: ValueEvent<string>) => this.edit(setUnit(e.value as LengthUnit | 'auto', unitNow(answer)))}
      ></scute-choice>
      ${height === null ? nothing : this.renderSize(height)}
      ${
        height === null
          ? nothing
          : html`<div class="fields low" ?inert=${isStale(this.session)}>
            <scute-length-field
              label="Height above the board"
              .mm=${height}
              .system=${prefs.units}
              @value=${(e: ValueEvent<number>) =>
                this.edit(
                  setTrueLength(height, e.value, unitNow(answer)),
                  e.isGesture ? 'scan-height' : null,
                )}
            ></scute-length-field>
            <scute-number-field
              label="Factor on the unit"
              .value=${plan.scan.scale}
              digits="4"
              step="0.01"
              min="0.000001"
              max="1000000"
              @value=${(e: ValueEvent<number>) =>
                this.edit(setScale(e.value, unitNow(answer)), e.isGesture ? 'scan-factor' : null)}
            ></scute-number-field>
          </div>`
      }
    `;
  }

  /** The size in both systems, and the switch for the figure that it is judged by. */
  private renderSize(heightMm: number) {
    const { plan, answer, prefs } = this.session;
    const isGuessed = plan.scan.unit === 'auto';
    const figure = chooseScaleFigure(heightMm);
    return html`
      <p class="note">
        ${isGuessed ? `Taken as ${answer?.result.scan.unit}. Is it` : 'It is now'}
        ${sayBothLengths(heightMm)} tall${isGuessed ? '?' : '.'}
      </p>
      <label class="check">
        <input
          type="checkbox"
          .checked=${prefs.isScaleShown}
          @change=${(e: Event) =>
            this.dispatchEvent(new PrefsEvent({ isScaleShown: (e.target as HTMLInputElement).checked }))}
        />
        Show ${figure.name}, ${sayBothLengths(figure.heightMm)}, beside it
      </label>
    `;
  }

  private edit(edit: PlanEdit, gesture: string | null = null): void {
    this.dispatchEvent(new PlanEditEvent(edit, gesture));
  }
}
