import { css, html, LitElement, nothing, svg } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { sharedStyles } from '../sharedStyles.ts';
import type { AidsPicture } from './layOutAids.ts';

/** What is laid over the picture while the mould is set up: handle, measured stretch, hand or person for the size. */
@customElement('scute-figure-aids')
export class FigureAids extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        position: absolute;
        inset: 0;
        overflow: hidden;
        pointer-events: none;
      }
      svg {
        display: block;
        width: 100%;
        height: 100%;
      }
      text {
        fill: var(--ink);
        font-size: 15px;
        paint-order: stroke;
        stroke: var(--paper);
        stroke-width: 5px;
        stroke-linejoin: round;
      }
      text.strong {
        font-size: 17px;
        font-weight: 700;
      }
      .middle {
        text-anchor: middle;
      }
      .end {
        text-anchor: end;
      }
      .grip {
        fill: var(--paper);
        stroke: var(--accent);
        stroke-width: 2.5;
      }
      .way {
        fill: none;
        stroke: var(--accent);
        stroke-width: 2.5;
        stroke-linecap: round;
        stroke-linejoin: round;
      }
      .stretch {
        fill: none;
        stroke: var(--accent);
        stroke-width: 2;
      }
      .outline {
        fill: color-mix(in srgb, var(--paper) 25%, transparent);
        stroke: var(--ink-soft);
        stroke-width: 1.4;
        vector-effect: non-scaling-stroke;
        stroke-linejoin: round;
      }
      .ground {
        stroke: var(--ink-soft);
        stroke-width: 1;
      }
    `,
  ];

  @property({ attribute: false }) picture: AidsPicture | null = null;

  override render() {
    const { picture } = this;
    if (!picture || (!picture.handle && !picture.measure && !picture.scale)) return nothing;
    return html`<svg aria-hidden="true">
      ${this.renderScale()} ${this.renderMeasure()} ${this.renderHandle()}
    </svg>`;
  }

  private renderScale() {
    const scale = this.picture?.scale;
    if (!scale) return nothing;
    const { figure, foot, heightPx, widthPx, isTooTall, words, text } = scale;
    const said = svg`<text class="middle" x=${words.x} y=${words.y}>${text}</text>`;
    if (isTooTall) return said;
    const left = foot.x - widthPx / 2;
    // The path is drawn in a box 100 high; seen from above it is shortened as everything upright is.
    const across = widthPx / (100 * figure.widthShare);
    return svg`
      <path
        class="outline"
        transform=${`translate(${left} ${foot.y - heightPx}) scale(${across} ${heightPx / 100})`}
        d=${figure.path}
      ></path>
      <path class="ground" d=${`M${left - 6} ${foot.y}H${left + widthPx + 6}`}></path>
      ${said}`;
  }

  private renderMeasure() {
    const measure = this.picture?.measure;
    if (!measure) return nothing;
    const { from, to, words, isLive, text } = measure;
    return svg`
      ${isLive ? svg`<path class="stretch" d=${`M${from.x} ${from.y}L${to.x} ${to.y}`}></path>` : nothing}
      <text class="strong ${words.anchor}" x=${words.x} y=${words.y}>${text}</text>`;
  }

  private renderHandle() {
    const handle = this.picture?.handle;
    if (!handle) return nothing;
    const { at, text } = handle;
    // End on, the handle is dragged up and down.
    const way = handle.way ?? { x: 0, y: -1 };
    const arrow = (sign: 1 | -1) => {
      const x = at.x + sign * 28 * way.x;
      const y = at.y + sign * 28 * way.y;
      const backX = -sign * 7 * way.x;
      const backY = -sign * 7 * way.y;
      return `M${x + backX + 0.7 * backY} ${y + backY - 0.7 * backX}L${x} ${y}L${x + backX - 0.7 * backY} ${y + backY + 0.7 * backX}`;
    };
    return svg`
      <path class="way" d=${`M${at.x - 28 * way.x} ${at.y - 28 * way.y}L${at.x + 28 * way.x} ${at.y + 28 * way.y}${arrow(1)}${arrow(-1)}`}></path>
      <circle class="grip" cx=${at.x} cy=${at.y} r="11"></circle>
      <text class="strong middle" x=${at.x} y=${at.y - 38}>${text}</text>`;
  }
}
