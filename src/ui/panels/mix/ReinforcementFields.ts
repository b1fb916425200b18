import { html, nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import type { Pack } from '../../../core/material/MaterialSystem.ts';
import { type PackOwner, setPacks, setReinforcement } from '../../../session/materialActions.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import { basisHint, basisLines } from './basisLines.ts';
import { capital } from './capital.ts';
import { mixStyles } from './mixStyles.ts';
import { SystemPart } from './SystemPart.ts';
import { percentOf, sayPercent, shareOfPercent } from './sayPercent.ts';
import { shopUnit } from './shopUnits.ts';
import '../../fields/LengthField.ts';
import '../../fields/NumberField.ts';
import './PackList.ts';

const OWNER: PackOwner = { of: 'reinforcement' };

/** The fibre, burlap or mat of a system. */
@customElement('scute-reinforcement-fields')
export class ReinforcementFields extends SystemPart {
  static override styles = [sharedStyles, panelStyles, mixStyles];

  override render() {
    const system = this.edited;
    const { reinforcement } = system;
    if (reinforcement === null) return nothing;
    const { name, lengthMm, arealGPerM2 } = reinforcement;
    const { units } = this.session.prefs;
    const areal = shopUnit('areal', units);
    return html`<details class="group">
      <summary>
        <span class="title">${capital(name)}</span>
        <span class="said"
          >${sayPercent(reinforcement.typicalShare)} on the mix, at most ${sayPercent(reinforcement.mostShare)}</span
        >
      </summary>
      <div class="inside">
        <div class="fields">
          ${this.renderShare('leastShare', 'Least', 0, reinforcement.typicalShare)}
          ${this.renderShare('typicalShare', 'Usual', reinforcement.leastShare, reinforcement.mostShare)}
          ${this.renderShare('mostShare', 'Most', Math.max(reinforcement.typicalShare, 0.0001), 5)}
          <scute-number-field
            label="Density"
            unit="g/cm³"
            .value=${reinforcement.densityGPerCm3}
            hint=${basisHint(system, 'reinforcement.densityGPerCm3')}
            step="0.01"
            min="0.01"
            max="12"
            @value=${(e: ValueEvent<number>) =>
              this.change(setReinforcement({ densityGPerCm3: e.value }), e, 'reinforcement-density')}
          ></scute-number-field>
          ${
            lengthMm === null
              ? nothing
              : html`<scute-length-field
                label="Length of the fibre"
                .mm=${lengthMm}
                .system=${units}
                hint=${basisHint(system, 'reinforcement.lengthMm')}
                max="1000"
                @value=${(e: ValueEvent<number>) =>
                  this.change(setReinforcement({ lengthMm: e.value }), e, 'reinforcement-length')}
              ></scute-length-field>`
          }
          ${
            arealGPerM2 === null
              ? nothing
              : html`<scute-number-field
                label="One layer"
                unit=${areal.unit}
                .value=${arealGPerM2 / areal.per}
                hint=${basisHint(system, 'reinforcement.arealGPerM2')}
                min="0.01"
                max="10000"
                digits="2"
                @value=${(e: ValueEvent<number>) =>
                  this.change(
                    setReinforcement({ arealGPerM2: e.value * areal.per }),
                    e,
                    'reinforcement-areal',
                  )}
              ></scute-number-field>`
          }
        </div>
        <scute-pack-list
          item=${name}
          .packs=${reinforcement.packs}
          .currency=${this.session.plan.supplies.currency}
          .system=${units}
          @value=${(e: ValueEvent<readonly Pack[]>) => this.change(setPacks(OWNER, e.value))}
        ></scute-pack-list>
        ${this.refusal ? html`<p class="problem" role="alert">${this.refusal}</p>` : nothing}
        ${basisLines(system, [
          ['reinforcement.leastShare', 'least'],
          ['reinforcement.typicalShare', 'usual'],
          ['reinforcement.mostShare', 'most'],
          ['reinforcement.densityGPerCm3', 'density'],
          ...(lengthMm === null ? [] : ([['reinforcement.lengthMm', 'length']] as const)),
          ...(arealGPerM2 === null ? [] : ([['reinforcement.arealGPerM2', 'one layer']] as const)),
        ])}
      </div>
    </details>`;
  }

  private renderShare(
    key: 'leastShare' | 'typicalShare' | 'mostShare',
    label: string,
    least: number,
    most: number,
  ) {
    const system = this.edited;
    return html`<scute-number-field
      label=${label}
      unit="% on the mix"
      .value=${percentOf(system.reinforcement?.[key] ?? 0)}
      hint=${basisHint(system, `reinforcement.${key}`)}
      step="0.5"
      min=${percentOf(least)}
      max=${percentOf(most)}
      digits="4"
      @value=${(e: ValueEvent<number>) =>
        this.change(setReinforcement({ [key]: shareOfPercent(e.value) }), e, `reinforcement-${key}`)}
    ></scute-number-field>`;
  }
}
