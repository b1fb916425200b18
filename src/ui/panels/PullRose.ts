import { css, html, LitElement, svg } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { PieceResult } from '../../core/PlanResult.ts';
import { isSteep, sayPull } from '../azimuth.ts';
import { sharedStyles } from '../sharedStyles.ts';

/** The pulls seen from above, as arrows from the middle of the board; the front is at the foot. */
@customElement('scute-pull-rose')
export class PullRose extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      svg {
        display: block;
        width: 160px;
        height: 160px;
      }
      text {
        font-size: 13px;
        fill: var(--ink);
        text-anchor: middle;
        dominant-baseline: central;
      }
      .soft {
        fill: var(--ink-soft);
        font-size: 12px;
      }
      .ring {
        fill: none;
        stroke: var(--line-soft);
      }
      .tint {
        stroke: var(--line);
      }
      .pull {
        stroke: var(--ink);
        stroke-width: 1.8;
        fill: none;
      }
    `,
  ];

  @property({ attribute: false }) pieces: readonly PieceResult[] = [];

  override render() {
    const label = this.pieces.map((p) => `${p.name} pulls ${sayPull(p.pull)}`).join(', ');
    return html`
      <svg viewBox="-86 -86 172 172" role="img" aria-label=${label}>
        <circle class="ring" r="46"></circle>
        <circle class="ring" r="23"></circle>
        <path class="ring" d="M-46 0H46M0 -46V46"></path>
        <text class="soft" y="79">front</text>
        ${this.pieces.map((piece, i) => this.renderPull(piece, i))}
      </svg>
    `;
  }

  private renderPull(piece: PieceResult, i: number) {
    const [x, y] = piece.pull;
    const length = Math.hypot(x, y);
    if (isSteep(piece.pull) || length === 0) {
      return svg`<circle class="pull" r="7"></circle><circle r="2" fill="var(--ink)"></circle><rect class="tint" x="-7" y="-28" width="14" height="14" fill="var(--piece-${i % 6})"></rect>`;
    }
    // Screen y points down, the board's y to the back.
    const ux = x / length;
    const uy = -y / length;
    const tip = [46 * ux, 46 * uy];
    const barb = (sign: number) =>
      `M${tip[0]} ${tip[1]}L${tip[0] - 9 * ux + sign * 4 * uy} ${tip[1] - 9 * uy - sign * 4 * ux}`;
    return svg`
      <path class="pull" d=${`M0 0L${tip[0]} ${tip[1]}${barb(1)}${barb(-1)}`}></path>
      <rect class="tint" x=${59 * ux - 7} y=${59 * uy - 7} width="14" height="14" fill="var(--piece-${i % 6})"></rect>
    `;
  }
}
