import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Pack } from '../../../core/material/MaterialSystem.ts';
import { type PackOwner, packsOf, setComponent, setPacks } from '../../../session/materialActions.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import { basisHint, basisLines } from './basisLines.ts';
import { capital } from './capital.ts';
import { mixStyles } from './mixStyles.ts';
import { SystemPart } from './SystemPart.ts';
import { percentOf, shareOfPercent } from './sayPercent.ts';
import '../../fields/NumberField.ts';
import '../../fields/OptionalNumberField.ts';
import './PackList.ts';

/** One component of a system: its parts, density, water, shelf life and packs. */
@customElement('scute-component-fields')
export class ComponentFields extends SystemPart {
  static override styles = [sharedStyles, panelStyles, mixStyles];

  @property({ type: Number }) index = 0;

  override render() {
    const system = this.edited;
    const component = system.components[this.index];
    if (!component) return nothing;
    const { name } = component;
    const owner: PackOwner = { of: 'component', index: this.index };
    const hint = (key: string) => basisHint(system, `${name}.${key}`);
    const gesture = (key: string) => `component-${this.index}-${key}`;
    return html`<details class="group">
      <summary>
        <span class="title">${capital(name)}</span>
        <span class="said"
          >${component.parts} ${component.parts === 1 ? 'part' : 'parts'} by ${system.partsBy},
          ${component.densityGPerCm3} g/cm³</span
        >
      </summary>
      <div class="inside">
        <div class="fields">
          <scute-number-field
            label="Parts of ${name}"
            unit="by ${system.partsBy}"
            .value=${component.parts}
            hint=${hint('parts')}
            step="0.1"
            min="0.001"
            max="1000000"
            @value=${(e: ValueEvent<number>) =>
              this.change(setComponent(this.index, { parts: e.value }), e, gesture('parts'))}
          ></scute-number-field>
          <scute-number-field
            label="Density"
            unit="g/cm³"
            .value=${component.densityGPerCm3}
            hint=${hint('densityGPerCm3')}
            step="0.01"
            min="0.01"
            max="12"
            @value=${(e: ValueEvent<number>) =>
              this.change(setComponent(this.index, { densityGPerCm3: e.value }), e, gesture('density'))}
          ></scute-number-field>
          <scute-number-field
            label="Water in it"
            unit="%"
            .value=${percentOf(component.waterShare)}
            hint=${hint('waterShare')}
            min="0"
            max="100"
            @value=${(e: ValueEvent<number>) =>
              this.change(
                setComponent(this.index, { waterShare: shareOfPercent(e.value) }),
                e,
                gesture('water'),
              )}
          ></scute-number-field>
          <scute-number-field
            label="Water it binds"
            unit="%"
            .value=${percentOf(component.bindsWaterShare)}
            hint=${hint('bindsWaterShare')}
            min="0"
            max="100"
            @value=${(e: ValueEvent<number>) =>
              this.change(
                setComponent(this.index, { bindsWaterShare: shareOfPercent(e.value) }),
                e,
                gesture('binds'),
              )}
          ></scute-number-field>
          <scute-optional-number
            label="Keeps"
            unit="months"
            .value=${component.shelfLifeMonths}
            hint=${component.shelfLifeMonths === null ? '' : hint('shelfLifeMonths')}
            max="1200"
            @value=${(e: ValueEvent<number | null>) =>
              this.change(setComponent(this.index, { shelfLifeMonths: e.value }))}
          ></scute-optional-number>
        </div>
        <scute-pack-list
          item=${name}
          .packs=${packsOf(system, owner)}
          .currency=${this.session.plan.supplies.currency}
          .system=${this.session.prefs.units}
          @value=${(e: ValueEvent<readonly Pack[]>) => this.change(setPacks(owner, e.value))}
        ></scute-pack-list>
        ${this.refusal ? html`<p class="problem" role="alert">${this.refusal}</p>` : nothing}
        ${basisLines(system, [
          [`${name}.parts`, 'parts'],
          [`${name}.densityGPerCm3`, 'density'],
          [`${name}.waterShare`, 'water in it'],
          [`${name}.bindsWaterShare`, 'water bound'],
          ...(component.shelfLifeMonths === null ? [] : ([[`${name}.shelfLifeMonths`, 'keeps']] as const)),
          ...(component.packs.length === 0 ? [] : ([[`${name}.packs`, 'packs']] as const)),
        ])}
      </div>
    </details>`;
  }
}
