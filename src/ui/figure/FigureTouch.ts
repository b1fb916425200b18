import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { formatLength } from '../../core/units.ts';
import type { SessionState } from '../../session/SessionStore.ts';
import { sayPiece } from '../sayPiece.ts';
import { sharedStyles } from '../sharedStyles.ts';
import type { FigureSight } from './FigureSight.ts';
import { sayTouch, touchSpan } from './touchSpan.ts';

/** Where each piece touches the rubber on its way, while any is slid. */
@customElement('scute-figure-touch')
export class FigureTouch extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      ul {
        display: flex;
        flex-wrap: wrap;
        gap: 2px 26px;
        padding: 4px 20px 2px 22px;
        font-size: var(--size-small);
      }
      li {
        border-left: 3px solid var(--line-soft);
        padding-left: 8px;
      }
      li.inside {
        color: var(--accent);
        border-left-color: var(--accent);
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  @property({ attribute: false }) sight!: FigureSight;

  override render() {
    const { sight } = this;
    const { answer, prefs } = this.session;
    if (sight.isDrawing || sight.isClosed || sight.isLineGivingWay || prefs.stage === 'scan') return nothing;
    const lines = (answer?.geometry.pieces ?? []).flatMap(({ touch }, i) => {
      const piece = answer?.result.pieces[i];
      if (!touch || !piece) return [];
      const text = sayTouch(sayPiece(piece), touchSpan(touch), (mm) => formatLength(mm, prefs.units));
      return [html`<li class=${sight.isInside(i) ? 'inside' : ''}>${text}</li>`];
    });
    return lines.length > 0 ? html`<ul aria-label="What touches">${lines}</ul>` : nothing;
  }
}
