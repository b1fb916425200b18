import { html } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { PlanEdit, SessionState } from '../../../session/SessionStore.ts';
import {
  type ReleasePack,
  setCurrency,
  setFastener,
  setRelease,
  setShim,
} from '../../../session/supplyActions.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { LateElement } from '../../parts/LateElement.ts';
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
export class SupplyFields extends LateElement {
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
    const { shim } = plan.supplies;
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
        ${this.renderName('What they are', shim.name, (name) => setShim({ name }))}
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
        ${this.renderCount('Strips in a pack', shim.stripsPerPack, 10000, (stripsPerPack) => setShim({ stripsPerPack }), 'shim-pack')}
        ${this.renderPackPrice(shim.packPrice, (packPrice) => setShim({ packPrice }))}
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
        ${this.renderName('What it is', release.name, (name) => setRelease({ name }))}
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
        ${this.renderCount('Coats of it', release.coats, 20, (coats) => setRelease({ coats }), 'release-coats')}
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
    const { fastener } = plan.supplies;
    const load = shopUnit('load', prefs.units);
    return html`
      <h4>Fasteners</h4>
      <div class="fields">
        ${this.renderName('What they are', fastener.name, (name) => setFastener({ name }))}
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
        ${this.renderCount('In a pack', fastener.perPack, 100000, (perPack) => setFastener({ perPack }), 'fastener-pack')}
        ${this.renderPackPrice(fastener.packPrice, (packPrice) => setFastener({ packPrice }))}
      </div>
    `;
  }

  private renderName(label: string, name: string, edit: (name: string) => PlanEdit) {
    return html`<scute-text-field
      label=${label}
      .value=${name}
      @value=${(e: ValueEvent<string>) => askEdit(this, edit(e.value))}
    ></scute-text-field>`;
  }

  /** A whole number of at least 1. */
  private renderCount(
    label: string,
    count: number,
    most: number,
    edit: (count: number) => PlanEdit,
    gesture: string,
  ) {
    return html`<scute-number-field
      label=${label}
      .value=${count}
      min="1"
      max=${most}
      @value=${(e: ValueEvent<number>) => askEdit(this, edit(Math.round(e.value)), e, gesture)}
    ></scute-number-field>`;
  }

  private renderPackPrice(price: number | null, edit: (price: number | null) => PlanEdit) {
    return html`<scute-optional-number
      label="Price of a pack"
      unit=${this.session.plan.supplies.currency}
      digits="2"
      max="10000000"
      .value=${price}
      @value=${(e: ValueEvent<number | null>) => askEdit(this, edit(e.value))}
    ></scute-optional-number>`;
  }
}
