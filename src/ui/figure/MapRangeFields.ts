import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { UnitSystem } from '../../core/units.ts';
import type { MapKind, MapRange } from '../../session/mapPrefs.ts';
import { ValueEvent } from '../fields/ValueEvent.ts';
import { sharedStyles } from '../sharedStyles.ts';
import type { MapBands } from './maps/mapBands.ts';
import { sayBorder, unitOf } from './maps/mapWords.ts';
import '../fields/LengthField.ts';
import '../fields/OptionalNumberField.ts';

const MOST_MM = 10_000;
const MOST_DEG = 90;

/** The range of a map: two ends, each left open or typed. Fires ValueEvent with the whole range. */
@customElement('scute-map-range')
export class MapRangeFields extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        display: flex;
        flex-wrap: wrap;
        align-items: end;
        gap: 8px 12px;
      }
      scute-length-field,
      scute-optional-number {
        width: 128px;
      }
      @container (max-width: 599px) {
        :host {
          gap: 6px 8px;
        }
        scute-length-field,
        scute-optional-number {
          width: 100px;
        }
      }
      p {
        flex: 1 1 100%;
        color: var(--accent);
      }
    `,
  ];

  @property() of: MapKind = 'thickness';
  @property({ attribute: false }) range!: MapRange;
  /** Present ends, for what an open field stands for. */
  @property({ attribute: false }) bands: MapBands | null = null;
  @property() units: UnitSystem = 'metric';

  override render() {
    const { least, most } = this.range;
    const isWrong = least !== null && most !== null && least >= most;
    return html`
      ${this.renderEnd('From', least, this.bands?.least ?? null, (value) => ({ ...this.range, least: value }))}
      ${this.renderEnd('To', most, this.bands?.most ?? null, (value) => ({ ...this.range, most: value }))}
      ${
        least !== null || most !== null
          ? html`<button @click=${() => this.dispatchEvent(new ValueEvent<MapRange>({ least: null, most: null }))}>
              As measured
            </button>`
          : nothing
      }
      ${isWrong ? html`<p>The first must lie below the second; until then the range is as measured.</p>` : nothing}
    `;
  }

  private renderEnd(
    label: string,
    value: number | null,
    now: number | null,
    put: (value: number | null) => MapRange,
  ) {
    const stands = now === null ? 'as measured' : sayBorder(this.of, Number(now.toPrecision(3)), this.units);
    const onValue = (e: ValueEvent<number | null>) =>
      this.dispatchEvent(new ValueEvent<MapRange>(put(e.value), e.isGesture));
    const unit = unitOf(this.of, this.units);
    if (this.of === 'draft') {
      return html`<scute-optional-number
        label=${label}
        unit=${unit}
        placeholder=${stands}
        .value=${value}
        .min=${-MOST_DEG}
        .max=${MOST_DEG}
        @value=${onValue}
      ></scute-optional-number>`;
    }
    return html`<scute-length-field
      label="${label}, ${unit}"
      placeholder=${stands}
      optional
      orNone
      .mm=${value}
      .min=${-MOST_MM}
      .max=${MOST_MM}
      .system=${this.units}
      @value=${onValue}
    ></scute-length-field>`;
  }
}
