import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import { type MapKind, OWN_RANGE, type Picture, pictureAt, picturesOf } from '../../session/mapPrefs.ts';
import type { SessionState } from '../../session/SessionStore.ts';
import type { MapState } from '../control/MapDrawer.ts';
import { PrefsEvent } from '../events.ts';
import { ValueEvent } from '../fields/ValueEvent.ts';
import { foldIcon } from '../icons.ts';
import { sharedStyles } from '../sharedStyles.ts';
import type { FigureSight } from './FigureSight.ts';
import { legendItems } from './legend/legendItems.ts';
import { mapScale } from './legend/mapScale.ts';
import type { MapModel } from './maps/mapModel.ts';
import { mapTitle, PICTURE_NAMES } from './maps/mapWords.ts';
import { renderSketch } from './sketch/renderSketch.ts';
import './MapRangeFields.ts';

/** So few things to explain stand beside the picture's choice even on a telephone. */
const SHORT = 1;
/** So few stand in one line. */
const FEW = 3;
/** More than these have the whole width. */
const MANY = 7;

/**
 * Which picture lies on the mould, and what each tint, hatching, line and band in it means. Fires ValueEvent<boolean> when
 * undercuts are to be shown or hidden.
 */
@customElement('scute-figure-legend')
export class FigureLegend extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        position: relative;
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 2px 16px;
        /* Two rows of the legend: the mould must not jump when one more thing is explained. */
        min-height: 54px;
        padding: 2px 20px 4px;
        font-size: var(--size-small);
      }
      .check,
      .picture {
        flex: none;
        gap: 8px;
      }
      .picture {
        display: flex;
        align-items: center;
      }
      select {
        width: auto;
      }
      .map {
        min-width: 0;
      }
      .map svg {
        display: block;
        max-width: 100%;
      }
      /* Set as words are, so that its lines come out alike: no item alone on the last. */
      .legend {
        flex: 1 1 380px;
        text-align: right;
        text-wrap: balance;
        line-height: 22px;
      }
      .legend.few {
        flex-basis: auto;
      }
      .legend.many {
        flex-basis: 100%;
      }
      .legend li {
        display: inline-flex;
        align-items: center;
        gap: 6px;
        margin-left: 16px;
        vertical-align: middle;
        text-align: left;
      }
      .legend-opener {
        display: none;
      }
      .legend svg {
        flex: none;
      }
      /* Over the picture's lower edge while it is asked for: the mould keeps its place. */
      .range {
        position: absolute;
        left: 0;
        right: 0;
        bottom: 100%;
        z-index: 2;
        display: flex;
        flex-wrap: wrap;
        align-items: end;
        gap: 8px 16px;
        padding: 8px 20px;
        background: var(--paper);
        border-top: 1px solid var(--line);
      }
      scute-map-range {
        flex: 1 1 280px;
      }
      .waits {
        flex: 1 1 100%;
      }
      @container (max-width: 639px) {
        :host {
          padding: 2px 10px 4px;
        }
      }
      /* A telephone: the mould has the room, the words lie over the picture's lower edge while they are asked for. */
      @container (max-width: 599px) {
        :host {
          gap: 2px 8px;
          min-height: 0;
        }
        .picture label {
          position: absolute;
          clip-path: inset(50%);
          width: 1px;
          height: 1px;
          overflow: hidden;
        }
        .range {
          gap: 6px 8px;
          padding: 6px 10px;
        }
        scute-map-range {
          flex-basis: 200px;
        }
        .map {
          order: 1;
        }
        .legend-opener {
          display: flex;
          align-items: center;
          gap: 6px;
          margin-left: auto;
        }
        .legend-opener svg {
          transform: rotate(180deg);
        }
        .legend-opener[aria-expanded='true'] svg {
          transform: none;
        }
        .legend.long:not(.open) {
          display: none;
        }
        .legend.long {
          position: absolute;
          left: 0;
          right: 0;
          bottom: 100%;
          z-index: 2;
          padding: 6px 10px;
          background: var(--paper);
          border-top: 1px solid var(--line);
        }
      }
      /* Low: the mould needs the height more than names that its choices tell anyway. */
      @container (max-height: 460px) {
        :host {
          gap: 2px 8px;
          min-height: 0;
        }
        .picture label {
          position: absolute;
          clip-path: inset(50%);
          width: 1px;
          height: 1px;
          overflow: hidden;
        }
        .map {
          flex: 1 1 100%;
        }
        .title {
          line-height: 1.1;
        }
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  @property({ attribute: false }) sight!: FigureSight;
  @property({ attribute: false }) maps!: MapState;
  /** The map in sight; null while none is. */
  @property({ attribute: false }) map: MapModel | null = null;
  @property({ type: Boolean }) hasProposal = false;
  @property({ type: Boolean }) areUndercutsShown = true;
  @state() private isRangeOpen = false;
  /** On a telephone, where it lies over the picture. */
  @state() private isLegendOpen = false;

  override render() {
    const items = legendItems(this.session, this.sight, this.hasProposal, this.map);
    return html`
      ${this.renderPicture()} ${this.renderSwitch()} ${this.renderMap()}
      ${
        items.length > 0
          ? html`${items.length > SHORT ? this.renderLegendOpener() : nothing}
            <ul id="legend" class="legend ${this.sizeOf(items.length)} ${this.isLegendOpen ? 'open' : ''}">
              ${items.map(({ swatches, text }) => html`<li>${swatches.map(renderSketch)} ${text}</li> `)}
            </ul>`
          : nothing
      }
      ${this.renderRange()} ${this.renderWait()}
    `;
  }

  private renderPicture() {
    const { prefs } = this.session;
    const { stage, pictures } = prefs;
    const now = pictureAt(stage, pictures);
    // What lies over the rubber has its own legend; a picture chosen takes it off.
    const isCovered = !this.sight.isMapChosen && now !== 'pieces';
    return html`<div class="picture">
      <label for="picture">Picture</label>
      <select
        id="picture"
        @change=${(e: Event) => {
          const picture = (e.target as HTMLSelectElement).value as Picture;
          const change = { pictures: { ...pictures, [stage]: picture } };
          this.prefer(picture === 'pieces' ? change : { ...change, isShellShown: false, isSectionOn: false });
        }}
      >
        ${isCovered ? html`<option .selected=${live(true)} disabled>covered now</option>` : nothing}
        ${picturesOf(stage).map(
          (picture) => html`<option value=${picture} .selected=${live(!isCovered && picture === now)}>
            ${stage === 'scan' && picture === 'pieces' ? 'Clay' : PICTURE_NAMES[picture]}
          </option>`,
        )}
      </select>
    </div>`;
  }

  private renderSwitch() {
    if (!this.sight.canLocksBeSeen) return nothing;
    return html`<label class="check">
      <input
        type="checkbox"
        .checked=${this.areUndercutsShown}
        @change=${(e: Event) => this.dispatchEvent(new ValueEvent((e.target as HTMLInputElement).checked))}
      />
      Undercuts
    </label>`;
  }

  private renderMap() {
    const { map } = this;
    if (!map || this.session.prefs.isSectionOn) return nothing;
    const { plan, prefs } = this.session;
    const { of, coat } = map.picture;
    return html`
      <button aria-expanded=${this.isRangeOpen ? 'true' : 'false'} @click=${this.toggleRange}>
        ${of === 'thickness' && plan.coats.length > 1 ? 'Coats, range' : 'Range'}
      </button>
      <div class="map">
        <p class="title">${mapTitle(of, coat === null ? null : (plan.coats[coat]?.name ?? null), prefs.units)}</p>
        ${
          map.bands.borders.length > 0
            ? renderSketch(mapScale(map, prefs.units))
            : html`<p>${of === 'distance' ? 'the body is the scan, everywhere' : 'the same everywhere'}</p>`
        }
      </div>
    `;
  }

  private sizeOf(itemCount: number): string {
    return [
      itemCount <= FEW ? 'few' : '',
      itemCount > MANY ? 'many' : '',
      itemCount > SHORT ? 'long' : '',
    ].join(' ');
  }

  private renderLegendOpener() {
    return html`<button
      class="legend-opener"
      aria-expanded=${this.isLegendOpen ? 'true' : 'false'}
      aria-controls="legend"
      @click=${() => {
        this.isLegendOpen = !this.isLegendOpen;
        this.isRangeOpen = false;
      }}
    >
      Legend ${foldIcon}
    </button>`;
  }

  private renderCoat() {
    const { plan, prefs } = this.session;
    const last = plan.coats.length - 1;
    const now = Math.min(prefs.mapCoat ?? last, last);
    return html`<div class="picture">
      <label for="coat">up to</label>
      <select
        id="coat"
        @change=${(e: Event) => {
          const coat = Number((e.target as HTMLSelectElement).value);
          this.prefer({ mapCoat: coat === last ? null : coat });
        }}
      >
        ${plan.coats.map(
          ({ name }, i) =>
            html`<option value=${i} .selected=${live(i === now)}>${i === last ? 'all coats' : name}</option>`,
        )}
      </select>
    </div>`;
  }

  private renderRange() {
    const { map } = this;
    if (!map || !this.isRangeOpen || this.session.prefs.isSectionOn) return nothing;
    const { mapRanges, units } = this.session.prefs;
    const of: MapKind = map.picture.of;
    const isOfCoats = of === 'thickness' && this.session.plan.coats.length > 1;
    return html`<div class="range">${isOfCoats ? this.renderCoat() : nothing}<scute-map-range
      .of=${of}
      .range=${mapRanges[of] ?? OWN_RANGE}
      .bands=${map.bands}
      .units=${units}
      @value=${(e: ValueEvent<(typeof mapRanges)[MapKind] & object>) =>
        this.prefer({ mapRanges: { ...mapRanges, [of]: e.value } })}
    ></scute-map-range></div>`;
  }

  /** While a map is awaited, or why there is none. */
  private renderWait() {
    const { fraction, picture, problem } = this.maps;
    if (!this.sight.isMapChosen) return nothing;
    if (problem !== null) return html`<p class="waits accent">No map. ${problem}</p>`;
    if (picture !== null && this.map === null)
      return html`<p class="waits soft">There is nothing to tell.</p>`;
    if (picture !== null) return nothing;
    return html`<p class="waits soft">
      The map is being worked out${fraction === null ? '' : `, ${Math.round(100 * fraction)} %`}.
    </p>`;
  }

  private readonly toggleRange = (): void => {
    this.isRangeOpen = !this.isRangeOpen;
    this.isLegendOpen = false;
  };

  private prefer(change: PrefsEvent['change']): void {
    this.dispatchEvent(new PrefsEvent(change));
  }
}
