import { css, html, LitElement, svg } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { sharedStyles } from '../sharedStyles.ts';
import type { ProbeSpot } from './probeSpots.ts';

/** Radius of the ring round a number, CSS pixels. */
const RING_PX = 11;

/** The points for the pin, ringed and numbered as on the shop sheet. */
@customElement('scute-figure-probes')
export class FigureProbes extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        position: absolute;
        inset: 0;
        pointer-events: none;
      }
      svg {
        display: block;
        width: 100%;
        height: 100%;
      }
      circle {
        fill: var(--paper);
        stroke: var(--ink);
        stroke-width: 1.3;
      }
      text {
        fill: var(--ink);
        font-size: var(--size-small);
        text-anchor: middle;
      }
    `,
  ];

  @property({ attribute: false }) spots: readonly ProbeSpot[] = [];

  override render() {
    return html`<svg aria-hidden="true">
      ${this.spots.map(
        ({ number, x, y }) => svg`
          <circle cx=${x} cy=${y} r=${RING_PX}></circle>
          <text class="probe" x=${x} y=${y + 5}>${number}</text>`,
      )}
    </svg>`;
  }
}
