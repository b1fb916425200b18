import { html, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Pack } from '../../../core/material/MaterialSystem.ts';
import type { UnitSystem } from '../../../core/units.ts';
import { ValueEvent } from '../../fields/ValueEvent.ts';
import { removeIcon } from '../../icons.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { mixStyles } from './mixStyles.ts';
import '../../fields/MassField.ts';
import '../../fields/OptionalNumberField.ts';

/** A pack to begin with, g: what most things are sold in; the user types over it. */
const FIRST_PACK_G = 1000;

/** Sizes in which something is sold, and what each costs. Fires ValueEvent with the whole new list. */
@customElement('scute-pack-list')
export class PackList extends LitElement {
  static override styles = [sharedStyles, mixStyles];

  /** What is in the packs. */
  @property() item = '';
  @property({ attribute: false }) packs: readonly Pack[] = [];
  @property() currency = '';
  @property() system: UnitSystem = 'metric';

  override render() {
    return html`
      ${this.packs.map(
        (pack, i) => html`<div class="line">
          <scute-mass-field
            label="Pack of ${this.item}"
            .g=${pack.massG}
            .system=${this.system}
            max="30000000"
            @value=${(e: ValueEvent<number | null>) => {
              if (e.value !== null) this.change(i, { ...pack, massG: e.value });
            }}
          ></scute-mass-field>
          <scute-optional-number
            label="Price"
            unit=${this.currency}
            .value=${pack.price}
            max="10000000"
            digits="2"
            @value=${(e: ValueEvent<number | null>) => this.change(i, { ...pack, price: e.value })}
          ></scute-optional-number>
          <button
            class="quiet"
            aria-label="Take out this pack of ${this.item}"
            title="Take out the pack"
            @click=${() => this.give(this.packs.filter((_, k) => k !== i))}
          >
            ${removeIcon}
          </button>
        </div>`,
      )}
      <div class="row actions">
        <button
          @click=${() =>
            this.give([...this.packs, { massG: this.packs.at(-1)?.massG ?? FIRST_PACK_G, price: null }])}
        >
          Add a pack of ${this.item}
        </button>
      </div>
    `;
  }

  private change(index: number, pack: Pack): void {
    this.give(this.packs.map((one, i) => (i === index ? pack : one)));
  }

  private give(packs: readonly Pack[]): void {
    this.dispatchEvent(new ValueEvent(packs));
  }
}
