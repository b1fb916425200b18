import { css, html, LitElement, nothing, svg } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { sharedStyles } from '../sharedStyles.ts';
import type { ClearSpot } from './clearSpots.ts';
import type { OverlayPicture } from './overlayLayout.ts';

/** The drawing's furniture over the mould: dimension, notes led out, pulls, numbers on lines, scale bar. */
@customElement('scute-figure-overlay')
export class FigureOverlay extends LitElement {
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
      text {
        fill: var(--ink);
        font-size: 15px;
        paint-order: stroke;
        stroke: var(--paper);
        stroke-width: 4px;
        stroke-linejoin: round;
      }
      .bound {
        fill: var(--ink-soft);
        font-size: 13.5px;
      }
      text.note {
        border: none;
        margin: 0;
        padding: 0;
      }
      text.level {
        font-size: 12.5px;
        text-anchor: middle;
        stroke-width: 3px;
      }
      .stale .note {
        fill: var(--ink-soft);
      }
      .left {
        text-anchor: end;
      }
      .dimension,
      .pulls {
        text-anchor: middle;
      }
      .bar {
        font-size: 13.5px;
        fill: var(--ink-soft);
      }
      .thin {
        fill: none;
        stroke: var(--ink);
        stroke-width: 1;
      }
      .pull {
        fill: none;
        stroke: var(--ink);
        stroke-width: 2;
      }
      .tip {
        fill: none;
        stroke: var(--ink);
        stroke-width: 1.3;
      }
      .spot {
        fill: var(--ink);
        stroke: var(--paper);
        stroke-width: 1;
      }
      text.clear {
        text-anchor: middle;
      }
    `,
  ];

  @property({ attribute: false }) picture: OverlayPicture | null = null;
  @property({ attribute: false }) clear: readonly ClearSpot[] = [];
  /** The numbers are of an earlier plan. */
  @property({ type: Boolean }) isStale = false;

  override render() {
    const { picture } = this;
    if (!picture) return nothing;
    const { height, notes, pulls, labels, bar } = picture;
    return html`<svg class="${this.isStale ? 'stale' : ''}" aria-hidden="true">
      <defs>
        <marker id="tip" viewBox="0 0 12 12" refX="11" refY="6" markerWidth="11" markerHeight="11" orient="auto-start-reverse">
          <path d="M1 2 11 6 1 10" class="tip"></path>
        </marker>
      </defs>
      ${
        height
          ? svg`
            <path class="thin" d=${`M${height.x - 7} ${height.top.y}H${Math.max(height.x + 8, height.top.x - 6)}`}></path>
            <path class="thin" d=${`M${height.x - 7} ${height.bottom.y}H${height.x + 22}`}></path>
            <path class="thin" marker-start="url(#tip)" marker-end="url(#tip)" d=${`M${height.x} ${height.top.y}V${height.bottom.y}`}></path>
            <text class="dimension" transform=${`translate(${height.x - 8} ${(height.top.y + height.bottom.y) / 2}) rotate(-90)`}>${height.text}</text>`
          : nothing
      }
      ${labels.map((label) => svg`<text class="level" x=${label.x} y=${label.y + 4}>${label.text}</text>`)}
      ${notes.map(
        (note) => svg`
          <path class="thin" d=${`M${note.at.x + (note.side === 'left' ? 6 : -6)} ${note.at.y + 2}L${note.spot.x} ${note.spot.y}`}></path>
          <circle class="spot" cx=${note.spot.x} cy=${note.spot.y} r="3"></circle>
          <text class=${`note ${note.side}`} x=${note.at.x} y=${note.at.y}>${note.lines[0]}</text>
          <text class=${`note bound ${note.side}`} x=${note.at.x} y=${note.at.y + 18}>${note.lines[1]}</text>`,
      )}
      ${pulls.map((pull) =>
        pull.kind === 'arrow'
          ? svg`
            <path class="pull" marker-end="url(#tip)" d=${`M${pull.from.x} ${pull.from.y}L${pull.to.x} ${pull.to.y}`}></path>
            <text class="pulls" x=${(pull.from.x + pull.to.x) / 2} y=${Math.max(pull.from.y, pull.to.y) + 20}>${pull.text}</text>`
          : svg`
            <circle class="pull" cx=${pull.to.x} cy=${pull.to.y} r="8"></circle>
            ${
              pull.kind === 'toward'
                ? svg`<circle class="spot" cx=${pull.to.x} cy=${pull.to.y} r="2.5"></circle>`
                : svg`<path class="pull" d=${`M${pull.to.x - 5} ${pull.to.y - 5}l10 10m0 -10l-10 10`}></path>`
            }
            <text class="pulls" x=${pull.to.x} y=${pull.to.y + 25}>${pull.text}</text>`,
      )}
      ${this.clear.map(
        (spot) => svg`
          <text class="clear" x=${spot.x} y=${spot.y + 5}>${spot.name}</text>`,
      )}
      ${
        bar
          ? svg`
            <path class="thin" d=${`M${bar.x} ${bar.y - 5}v5h${bar.lengthPx}v-5`}></path>
            <text class="bar" x=${bar.x + bar.lengthPx + 8} y=${bar.y}>${bar.text}</text>`
          : nothing
      }
    </svg>`;
  }
}
