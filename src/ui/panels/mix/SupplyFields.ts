import { html, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { SessionState } from '../../../session/SessionStore.ts';
import {
  type ReleasePack,
  setCurrency,
  setFastener,
  setRelease,
  setShim,
} from '../../../session/supplyActions.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import { askEdit } from './askEdit.ts';
import { mixStyles } from './mixStyles.ts';
import { shopUnit } from './shopUnits.ts';
import '../../fields/LengthField.ts';
import '../../fields/NumberField.ts';
import '../../fields/OptionalNumberField.ts';
import '../../fields/TextField.ts';
import './PackList.ts';

/** What is bought beside the mixes: shims, release agent, fasteners; and the currency of all prices. */
@customElement('scute-supply-fields')
export class SupplyFields extends LitElement {
  static override styles = [sharedStyles, panelStyles, mixStyles];

  @property({ attribute: false }) session!: SessionState;

  override render() {
    const { currency } = this.session.plan.supplies;
    return html`
      <div class="fields">
        <scute-text-field
          label="Prices are in"
          optional
          .value=${currency}
          @value=${(e: ValueEvent<string>) => askEdit(this, setCurrency(e.value))}
        ></scute-text-field>
      </div>
      ${this.renderShim()} ${this.renderRelease()} ${this.renderFastener()}
    `;
  }

  private renderShim() {
    const { plan, prefs } = this.session;
    const { shim, currency } = plan.supplies;
    const length = (
      key: 'thicknessMm' | 'stripLengthMm' | 'stripWidthMm' | 'overlapMm',
      label: string,
      max: number,
    ) =>
      html`<scute-length-field
        label=${label}
        .mm=${shim[key]}
        .system=${prefs.units}
        ?orNone=${key === 'overlapMm'}
        max=${max}
        @value=${(e: ValueEvent<number>) => askEdit(this, setShim({ [key]: e.value }), e, `shim-${key}`)}
      ></scute-length-field>`;
    return html`
      <h4>Shims</h4>
      <div class="fields">
        <scute-text-field
          label="What they are"
          .value=${shim.name}
          @value=${(e: ValueEvent<string>) => askEdit(this, setShim({ name: e.value }))}
        ></scute-text-field>
        ${length('thicknessMm', 'Sheet', 20)}
        <scute-number-field
          label="Density of the sheet"
          unit="g/cm³"
          .value=${shim.densityGPerCm3}
          step="0.1"
          min="0.01"
          max="12"
          @value=${(e: ValueEvent<number>) =>
            askEdit(this, setShim({ densityGPerCm3: e.value }), e, 'shim-density')}
        ></scute-number-field>
        ${length('stripLengthMm', 'Strip, long', 10_000)} ${length('stripWidthMm', 'Strip, wide', 1000)}
        ${length('overlapMm', 'Overlap', Math.max(0, shim.stripLengthMm - 1))}
        <scute-number-field
          label="Strips in a pack"
          .value=${shim.stripsPerPack}
          min="1"
          max="10000"
          @value=${(e: ValueEvent<number>) =>
            askEdit(this, setShim({ stripsPerPack: Math.round(e.value) }), e, 'shim-pack')}
        ></scute-number-field>
        <scute-optional-number
          label="Price of a pack"
          unit=${currency}
          digits="2"
          max="10000000"
          .value=${shim.packPrice}
          @value=${(e: ValueEvent<number | null>) => askEdit(this, setShim({ packPrice: e.value }))}
        ></scute-optional-number>
      </div>
    `;
  }

  private renderRelease() {
    const { plan, prefs } = this.session;
    const { release, currency } = plan.supplies;
    const coverage = shopUnit('coverage', prefs.units);
    return html`
      <h4>Release agent</h4>
      <div class="fields">
        <scute-text-field
          label="What it is"
          .value=${release.name}
          @value=${(e: ValueEvent<string>) => askEdit(this, setRelease({ name: e.value }))}
        ></scute-text-field>
        <scute-number-field
          label="Covers"
          unit=${coverage.unit}
          .value=${release.coverageM2PerKg / coverage.per}
          min="0.01"
          max="100000"
          digits="1"
          @value=${(e: ValueEvent<number>) =>
            askEdit(this, setRelease({ coverageM2PerKg: e.value * coverage.per }), e, 'release-coverage')}
        ></scute-number-field>
        <scute-number-field
          label="Coats of it"
          .value=${release.coats}
          min="1"
          max="20"
          @value=${(e: ValueEvent<number>) =>
            askEdit(this, setRelease({ coats: Math.round(e.value) }), e, 'release-coats')}
        ></scute-number-field>
      </div>
      <scute-pack-list
        item=${release.name}
        .packs=${release.packs}
        .currency=${currency}
        .system=${prefs.units}
        @value=${(e: ValueEvent<readonly ReleasePack[]>) => askEdit(this, setRelease({ packs: e.value }))}
      ></scute-pack-list>
    `;
  }

  private renderFastener() {
    const { plan, prefs } = this.session;
    const { fastener, currency } = plan.supplies;
    const load = shopUnit('load', prefs.units);
    return html`
      <h4>Fasteners</h4>
      <div class="fields">
        <scute-text-field
          label="What they are"
          .value=${fastener.name}
          @value=${(e: ValueEvent<string>) => askEdit(this, setFastener({ name: e.value }))}
        ></scute-text-field>
        <scute-number-field
          label="One is trusted with"
          unit=${load.unit}
          .value=${fastener.workingLoadN / load.per}
          step="10"
          min="0.1"
          max="1000000"
          digits="0"
          @value=${(e: ValueEvent<number>) =>
            askEdit(this, setFastener({ workingLoadN: e.value * load.per }), e, 'fastener-load')}
        ></scute-number-field>
        <scute-length-field
          label="No two farther apart than"
          .mm=${fastener.mostSpacingMm}
          .system=${prefs.units}
          max="10000"
          @value=${(e: ValueEvent<number>) =>
            askEdit(this, setFastener({ mostSpacingMm: e.value }), e, 'fastener-spacing')}
        ></scute-length-field>
        <scute-number-field
          label="In a pack"
          .value=${fastener.perPack}
          min="1"
          max="100000"
          @value=${(e: ValueEvent<number>) =>
            askEdit(this, setFastener({ perPack: Math.round(e.value) }), e, 'fastener-pack')}
        ></scute-number-field>
        <scute-optional-number
          label="Price of a pack"
          unit=${currency}
          digits="2"
          max="10000000"
          .value=${fastener.packPrice}
          @value=${(e: ValueEvent<number | null>) => askEdit(this, setFastener({ packPrice: e.value }))}
        ></scute-optional-number>
      </div>
    `;
  }
}
