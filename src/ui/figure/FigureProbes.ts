import { css, html, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { sharedStyles } from '../sharedStyles.ts';
import { probeShapes } from './probeShapes.ts';
import type { ProbeSpot } from './probeSpots.ts';
import { renderShapes } from './sketch/renderSketch.ts';

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
    `,
  ];

  @property({ attribute: false }) spots: readonly ProbeSpot[] = [];

  override render() {
    return html`<svg aria-hidden="true">${renderShapes(probeShapes(this.spots))}</svg>`;
  }
}
