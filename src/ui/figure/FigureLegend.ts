import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { formatLength } from '../../core/units.ts';
import type { SessionState } from '../../session/SessionStore.ts';
import { ValueEvent } from '../fields/ValueEvent.ts';
import { sayPiece } from '../sayPiece.ts';
import { sharedStyles } from '../sharedStyles.ts';
import type { FigureSight } from './FigureSight.ts';
import { fillerSwatch, touchSwatch } from './hatchSwatch.ts';
import { lockLegend } from './lockLegend.ts';
import { swatchStyles } from './swatchStyles.ts';

/** How a line is drawn, for the legend. */
const STROKE = html`<svg class="stroke" width="26" height="10" aria-hidden="true"><line x1="0" y1="5" x2="26" y2="5"></line></svg>`;

/** How what was found or mended is marked, for the legend. */
const MARK_STROKE = html`<svg class="stroke mark" width="26" height="10" aria-hidden="true"><line x1="0" y1="5" x2="26" y2="5"></line></svg>`;

/** What each tint, hatching and line in the figure means. Fires ValueEvent<boolean> when undercuts are to be shown or hidden. */
@customElement('scute-figure-legend')
export class FigureLegend extends LitElement {
  static override styles = [
    sharedStyles,
    swatchStyles,
    css`
      :host {
        display: flex;
        align-items: center;
        justify-content: space-between;
        gap: 8px 22px;
        /* Two rows of the legend: the mould must not jump when one more thing is explained. */
        min-height: 54px;
        padding: 2px 20px 4px;
        font-size: var(--size-small);
      }
      .check {
        flex: none;
        gap: 8px;
      }
      .legend {
        display: flex;
        flex-wrap: wrap;
        justify-content: flex-end;
        gap: 2px 16px;
        margin-left: auto;
      }
      .legend li {
        display: flex;
        align-items: center;
        gap: 6px;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  @property({ attribute: false }) sight!: FigureSight;
  @property({ type: Boolean }) hasProposal = false;
  @property({ type: Boolean }) areUndercutsShown = true;

  override render() {
    return html`${this.renderSwitch()} ${this.renderItems()}`;
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

  private renderItems() {
    const { sight } = this;
    const { answer, plan, prefs } = this.session;
    if (prefs.isSectionOn) {
      return html`<ul class="legend">
        <li><span class="swatch rubber"></span> rubber</li>
        ${plan.coats.map(
          (coat, i) => html`<li>
            <span class="swatch coat-${i % 6}"></span> ${coat.name} ${formatLength(coat.thicknessMm, prefs.units)}
          </li>`,
        )}
      </ul>`;
    }
    if (prefs.stage === 'scan') {
      if (!answer || answer.geometry.marks.length === 0) return nothing;
      return html`<ul class="legend">
        <li>${MARK_STROKE} found or mended here</li>
      </ul>`;
    }
    if (this.hasProposal) return html`<ul class="legend"><li>${STROKE} suggested line</li></ul>`;
    if (sight.isLineGivingWay) return html`<ul class="legend"><li>${STROKE} your line</li></ul>`;
    return html`<ul class="legend">
      ${answer?.result.pieces.map(
        (piece, i) => html`<li><span class="swatch piece-${i % 6}"></span> ${sayPiece(piece)}</li>`,
      )}
      ${
        prefs.isShellShown && !sight.isDrawing
          ? html`<li><span class="swatch rubber whole"></span> rubber</li>`
          : nothing
      }
      ${answer && answer.geometry.lines.length > 0 ? html`<li>${STROKE} parting line</li>` : nothing}
      ${answer?.geometry.filler ? html`<li>${fillerSwatch} filler</li>` : nothing}
      ${sight.isTouchSeen ? html`<li>${touchSwatch} inside the rubber</li>` : nothing}
      ${
        sight.areLocksInSight
          ? lockLegend(answer?.geometry.pieces ?? [], sight.levelsMm, plan.parting.rubberGiveMm, prefs.units)
          : nothing
      }
    </ul>`;
  }
}
