import { html, nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { formatMass } from '../../../core/units.ts';
import { setNumbers, setPartsBy, setShellRange, setStrength } from '../../../session/materialActions.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import { basisHint, basisLines } from './basisLines.ts';
import { mixStyles } from './mixStyles.ts';
import { SystemPart } from './SystemPart.ts';
import { percentOf, sayPercent, shareOfPercent } from './sayPercent.ts';
import '../../fields/ChoiceField.ts';
import '../../fields/LengthField.ts';
import '../../fields/MassField.ts';
import '../../fields/NumberField.ts';

/** What goes astray in a system, air in it, how thick it is laid and how strong it is. */
@customElement('scute-loss-fields')
export class LossFields extends SystemPart {
  static override styles = [sharedStyles, panelStyles, mixStyles];

  override render() {
    const system = this.edited;
    const { units } = this.session.prefs;
    const { shellMm, strength } = system;
    return html`<details class="group">
      <summary>
        <span class="title">Losses, air, thickness</span>
        <span class="said"
          >${sayPercent(system.lossShare)} astray, ${system.lossPerBatchG === 0 ? 'nothing' : formatMass(system.lossPerBatchG, units)} left a batch</span
        >
      </summary>
      <div class="inside">
        <div class="fields">
          <scute-number-field
            label="Stays in brushes and falls"
            unit="% of what is laid"
            .value=${percentOf(system.lossShare)}
            hint=${basisHint(system, 'lossShare')}
            step="0.5"
            min="0"
            max="100"
            @value=${(e: ValueEvent<number>) =>
              this.change(setNumbers({ lossShare: shareOfPercent(e.value) }), e, 'loss-share')}
          ></scute-number-field>
          <scute-mass-field
            label="Stays in the bucket, a batch"
            orNone
            .g=${system.lossPerBatchG}
            .system=${units}
            hint=${basisHint(system, 'lossPerBatchG')}
            max="100000"
            @value=${(e: ValueEvent<number | null>) => this.change(setNumbers({ lossPerBatchG: e.value ?? 0 }))}
          ></scute-mass-field>
          <scute-number-field
            label="Air beaten in"
            unit="% of the volume"
            .value=${percentOf(system.airShare)}
            hint=${basisHint(system, 'airShare')}
            step="0.5"
            min="0"
            max="90"
            @value=${(e: ValueEvent<number>) =>
              this.change(setNumbers({ airShare: shareOfPercent(e.value) }), e, 'air-share')}
          ></scute-number-field>
          <scute-choice
            label="Parts are given by"
            .options=${[{ value: 'mass', text: 'mass' }, { value: 'volume', text: 'volume' }]}
            .value=${system.partsBy}
            @value=${(e: ValueEvent<string>) =>
              this.change(setPartsBy(e.value === 'volume' ? 'volume' : 'mass'))}
          ></scute-choice>
          ${
            shellMm === null
              ? nothing
              : (['least', 'usual', 'most'] as const).map(
                  (key) => html`<scute-length-field
                    label="Whole shell, ${key}"
                    .mm=${shellMm[key]}
                    .system=${units}
                    hint=${basisHint(system, `shellMm.${key}`)}
                    max="500"
                    @value=${(e: ValueEvent<number>) =>
                      this.change(setShellRange({ [key]: e.value }), e, `shell-${key}`)}
                  ></scute-length-field>`,
                )
          }
          ${
            strength === null
              ? nothing
              : html`<scute-number-field
                  label="Strength in bending"
                  unit="MPa"
                  .value=${strength.flexuralMPa}
                  hint=${basisHint(system, 'strength.flexuralMPa')}
                  min="0.01"
                  max="10000"
                  @value=${(e: ValueEvent<number>) =>
                    this.change(setStrength({ flexuralMPa: e.value }), e, 'strength')}
                ></scute-number-field>
                <scute-number-field
                  label="Stiffness"
                  unit="GPa"
                  .value=${strength.modulusGPa}
                  hint=${basisHint(system, 'strength.modulusGPa')}
                  step="0.1"
                  min="0.001"
                  max="1000"
                  @value=${(e: ValueEvent<number>) =>
                    this.change(setStrength({ modulusGPa: e.value }), e, 'modulus')}
                ></scute-number-field>`
          }
        </div>
        ${this.refusal ? html`<p class="problem" role="alert">${this.refusal}</p>` : nothing}
        ${basisLines(system, [
          ['lossShare', 'brushes and falls'],
          ['lossPerBatchG', 'bucket'],
          ['airShare', 'air'],
          ...(shellMm === null ? [] : ([['shellMm', 'thickness of the shell']] as const)),
          ...(strength === null
            ? []
            : ([
                ['strength.flexuralMPa', 'strength'],
                ['strength.modulusGPa', 'stiffness'],
              ] as const)),
        ])}
      </div>
    </details>`;
  }
}
