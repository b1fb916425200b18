import { css, html, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { renderShapes } from './sketch/renderSketch.ts';
import type { SketchShape } from './sketch/Sketch.ts';

/** What is drawn over the mould, in the picture's own pixels. */
@customElement('scute-figure-overlay')
export class FigureOverlay extends LitElement {
  static override styles = css`
    :host {
      position: absolute;
      inset: 0;
      pointer-events: none;
      font-variant-numeric: tabular-nums lining-nums;
    }
    svg {
      display: block;
      width: 100%;
      height: 100%;
    }
  `;

  @property({ attribute: false }) shapes: readonly SketchShape[] = [];

  override render() {
    return html`<svg aria-hidden="true">${renderShapes(this.shapes)}</svg>`;
  }
}
