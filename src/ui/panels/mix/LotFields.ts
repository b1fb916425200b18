import { css, html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { MaterialLot } from '../../../core/material/MaterialSystem.ts';
import { densityOfCup, removeLot, setLot, useLot } from '../../../session/materialActions.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import { mixStyles } from './mixStyles.ts';
import { SystemPart } from './SystemPart.ts';
import '../../fields/ChoiceField.ts';
import '../../fields/MassField.ts';
import '../../fields/OptionalNumberField.ts';
import '../../fields/TextField.ts';

/** Value of the choice that stands for no lot. */
const NONE = '';

const MEASURED: readonly (readonly [Exclude<keyof MaterialLot, 'lot' | 'densityGPerCm3'>, string])[] = [
  ['workingMin', 'Working time'],
  ['partialCureMin', 'Partial cure'],
  ['fullCureMin', 'Full cure'],
];

/** The shop's own values of one lot of the product: the density by weighing a cup of the mix, and times as they were met. */
@customElement('scute-lot-fields')
export class LotFields extends SystemPart {
  static override styles = [
    sharedStyles,
    panelStyles,
    mixStyles,
    css`
      .found {
        font-size: var(--size-heading);
        font-weight: bold;
        margin-top: 12px;
      }
    `,
  ];

  /** Lots of this system that finished jobs have left; what the system itself says of a lot goes before. */
  @property({ attribute: false }) remembered: readonly MaterialLot[] = [];
  /** Number that is typed for a lot that the system does not know yet. */
  @state() private newLot = '';
  @state() private by: 'cup' | 'water' = 'cup';
  @state() private emptyG: number | null = null;
  @state() private fullG: number | null = null;
  @state() private waterG: number | null = null;
  @state() private cupMl: number | null = null;

  override render() {
    const system = this.edited;
    const lot = system.lots.find((one) => one.lot === system.lotInUse) ?? null;
    const target = lot?.lot ?? this.newLot;
    const remembered = this.remembered.filter((one) => !system.lots.some((known) => known.lot === one.lot));
    return html`<details class="group">
      <summary>
        <span class="title">Lot in the shop, weighed cup</span>
        <span class="said">${this.sayLot(lot)}</span>
      </summary>
      <div class="inside">
        <p class="small soft">
          What you measured on one lot stands before what the data sheet says. Weigh a cup of the mix, without
          reinforcement, before you trust a density.
        </p>
        <div class="fields">
          ${
            system.lots.length + remembered.length === 0
              ? nothing
              : html`<label>
                <span class="small soft">Lot in use</span>
                <select
                  @change=${(e: Event) => {
                    const value = (e.target as HTMLSelectElement).value;
                    const found = remembered.find((one) => one.lot === value);
                    if (found) this.change(setLot(found.lot, found));
                    else this.change(useLot(value === NONE ? null : value));
                  }}
                >
                  <option value=${NONE} .selected=${system.lotInUse === null}>none, or a new one</option>
                  ${system.lots.map(
                    (one) =>
                      html`<option value=${one.lot} .selected=${one.lot === system.lotInUse}>${one.lot}</option>`,
                  )}
                  ${remembered.map((one) => html`<option value=${one.lot}>from an earlier job: ${one.lot}</option>`)}
                </select>
              </label>`
          }
          ${
            lot
              ? html`<div class="row">
                <button @click=${() => this.change(removeLot(lot.lot))}>Forget lot ${lot.lot}</button>
              </div>`
              : html`<scute-text-field
                label="Number of a new lot"
                optional
                .value=${this.newLot}
                @value=${(e: ValueEvent<string>) => {
                  this.newLot = e.value;
                }}
              ></scute-text-field>`
          }
        </div>
        ${target === '' ? html`<p class="note">Type the lot's number from the bag, then weigh.</p>` : this.renderLot(target, lot)}
        ${this.refusal ? html`<p class="problem" role="alert">${this.refusal}</p>` : nothing}
      </div>
    </details>`;
  }

  private sayLot(lot: MaterialLot | null): string {
    if (lot === null) return 'none: by the data sheet';
    return lot.densityGPerCm3 === null
      ? lot.lot
      : `${lot.lot}, ${Number(lot.densityGPerCm3.toFixed(3))} g/cm\u00b3`;
  }

  private renderLot(target: string, lot: MaterialLot | null) {
    const found = this.weigh();
    return html`
      <h4>Weigh a cup</h4>
      <div class="stack">
        <scute-choice
          label="The cup's volume"
          .options=${[
            { value: 'cup', text: 'is printed on it' },
            { value: 'water', text: 'by its fill of water' },
          ]}
          .value=${this.by}
          @value=${(e: ValueEvent<string>) => {
            this.by = e.value === 'water' ? 'water' : 'cup';
          }}
        ></scute-choice>
      </div>
      <div class="fields">
        ${this.renderWeight('emptyG', 'Empty cup', true)}
        ${this.renderWeight('fullG', 'Cup full of the mix', false)}
        ${
          this.by === 'water'
            ? this.renderWeight('waterG', 'Cup full of water', false)
            : html`<scute-optional-number
              label="Cup holds"
              unit="ml"
              placeholder=""
              .value=${this.cupMl}
              max="100000"
              @value=${(e: ValueEvent<number | null>) => {
                this.cupMl = e.value;
              }}
            ></scute-optional-number>`
        }
      </div>
      ${
        found === null
          ? nothing
          : 'problem' in found
            ? html`<p class="problem" role="alert">${found.problem}</p>`
            : html`<p class="found" role="status">${found.densityGPerCm3.toFixed(3)} g/cm³</p>
              <div class="row">
                <button
                  class="primary"
                  @click=${() => this.change(setLot(target, { densityGPerCm3: Number(found.densityGPerCm3.toFixed(4)) }))}
                >
                  Use it for lot ${target}
                </button>
              </div>`
      }
      <h4>Measured on lot ${target}</h4>
      <div class="fields">
        <scute-optional-number
          label="Density of the mix"
          unit="g/cm³"
          placeholder="not measured"
          .value=${lot?.densityGPerCm3 ?? null}
          min="0.01"
          max="12"
          @value=${(e: ValueEvent<number | null>) => this.change(setLot(target, { densityGPerCm3: e.value }))}
        ></scute-optional-number>
        ${MEASURED.map(
          ([key, label]) => html`<scute-optional-number
            label=${label}
            unit="min"
            placeholder="not measured"
            .value=${lot?.[key] ?? null}
            min="0.1"
            max="100000"
            @value=${(e: ValueEvent<number | null>) => this.change(setLot(target, { [key]: e.value }))}
          ></scute-optional-number>`,
        )}
      </div>
      <p class="small soft">Masses in grams, as the scale shows them, unless you write the unit.</p>
    `;
  }

  private renderWeight(key: 'emptyG' | 'fullG' | 'waterG', label: string, orNone: boolean) {
    return html`<scute-mass-field
      label=${label}
      optional
      ?orNone=${orNone}
      .g=${this[key]}
      system="metric"
      @value=${(e: ValueEvent<number | null>) => {
        this[key] = e.value;
      }}
    ></scute-mass-field>`;
  }

  /** Null until all three are there. */
  private weigh(): ReturnType<typeof densityOfCup> | null {
    const { emptyG, fullG, waterG, cupMl } = this;
    if (emptyG === null || fullG === null) return null;
    if (this.by === 'water') return waterG === null ? null : densityOfCup({ emptyG, fullG, waterG });
    return cupMl === null ? null : densityOfCup({ emptyG, fullG, cupMl });
  }
}
