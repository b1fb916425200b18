import { css, html, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { PieceResult } from '../../core/PlanResult.ts';
import { formatArea, formatLength, formatVolume } from '../../core/units.ts';
import type { SessionState } from '../../session/SessionStore.ts';
import { massCell } from '../sayAmounts.ts';
import { sayPiece } from '../sayPiece.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { panelStyles } from './panelStyles.ts';

/** The pieces: rubber covered, deepest lock, filler for what locks too deep, weight. */
@customElement('scute-piece-table')
export class PieceTable extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      th,
      td {
        padding-left: 6px;
      }
      td.locks.deep {
        color: var(--accent);
        font-weight: bold;
      }
      td.locks .bound {
        color: var(--ink-soft);
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;

  override render() {
    const { answer, prefs } = this.session;
    if (!answer) return html`<p class="note">The pieces come with the first answer.</p>`;
    return html`<table>
      <caption class="visually-hidden">
        Pieces with the area of rubber they cover, how deep they lock, filler and weight
      </caption>
      <thead>
        <tr>
          <th scope="col">Piece</th>
          <th scope="col">Area</th>
          <th scope="col">Locks</th>
          <th scope="col">Filler</th>
          <th scope="col">Weight</th>
        </tr>
      </thead>
      <tbody>
        ${answer.result.pieces.map(
          (piece, i) => html`<tr>
            <th scope="row">
              <span class="name"><span class="swatch piece-${i % 6}"></span>${sayPiece(piece)}</span>
            </th>
            <td>${formatArea(piece.areaMm2, prefs.units)}</td>
            ${this.renderLock(piece)}
            <td>${massCell(piece.massG, piece.massErrorG, prefs.units)}</td>
          </tr>`,
        )}
      </tbody>
    </table>`;
  }

  private renderLock({ undercut }: PieceResult) {
    const { prefs, plan } = this.session;
    if (undercut === null) return html`<td class="soft">\u2026</td><td class="soft">\u2026</td>`;
    const { maxDepthMm, maxDepthErrorMm, beyondGive } = undercut;
    if (maxDepthMm === 0) return html`<td class="locks">nowhere</td><td class="soft">\u2013</td>`;
    const isDeep = maxDepthMm > plan.parting.rubberGiveMm;
    return html`<td class="locks ${isDeep ? 'deep' : ''}">
        ${formatLength(maxDepthMm, prefs.units)}<span class="bound"
          >${isDeep ? `\u00b1 ${formatLength(maxDepthErrorMm, prefs.units)}` : 'yields'}</span
        >
      </td>
      <td>${isDeep ? formatVolume(beyondGive.fillerMm3, prefs.units) : '\u2013'}</td>`;
  }
}
