import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { sayMoney } from '../../../report/sayMoney.ts';
import { isStale, type SessionState } from '../../../session/SessionStore.ts';
import { sayPiece } from '../../sayPiece.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { capital } from './capital.ts';
import { mixStyles } from './mixStyles.ts';

/** What it all costs: in whole packs, and what each piece and coat takes of it. */
@customElement('scute-cost-table')
export class CostTable extends LitElement {
  static override styles = [
    sharedStyles,
    mixStyles,
    css`
      .stale {
        color: var(--ink-soft);
      }
      table + table {
        margin-top: 16px;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;

  override render() {
    const { answer } = this.session;
    if (!answer) return html`<p class="note">The cost comes with the first answer.</p>`;
    const { cost, pieces } = answer.result;
    if (cost.total === null) {
      return html`<p class="note">
        Nothing has a price yet. Give packs their prices under the system's values and under what is bought beside the
        mixes.
      </p>`;
    }
    const pieceName = (key: string) => {
      const piece = pieces.find((one) => one.id === key);
      return piece ? `Piece ${sayPiece(piece)}` : capital(key);
    };
    return html`<div class=${isStale(this.session) ? 'stale' : ''}>
      ${
        cost.unpriced.length > 0
          ? html`<p class="note">Without ${cost.unpriced.join(', ')}: no price is given.</p>`
          : nothing
      }
      ${this.renderRows('To buy, in whole packs', cost.byItem, capital, cost.total)}
      ${this.renderRows('Of that each piece takes', cost.byPiece, pieceName)}
      ${this.renderRows('and each coat', cost.byCoat, capital)}
    </div>`;
  }

  /** `total`: what the rows come to, where that is not said elsewhere. */
  private renderRows(
    title: string,
    rows: Readonly<Record<string, number>>,
    say: (key: string) => string,
    total: number | null = null,
  ) {
    const entries = Object.entries(rows);
    if (entries.length === 0) return nothing;
    const { currency } = this.session.plan.supplies;
    return html`<table>
      <thead>
        <tr>
          <th scope="col">${title}</th>
          <th scope="col">${currency || 'Price'}</th>
        </tr>
      </thead>
      <tbody>
        ${entries.map(
          ([key, amount]) => html`<tr>
            <th scope="row">${say(key)}</th>
            <td>${sayMoney(amount, '')}</td>
          </tr>`,
        )}
        ${
          total === null
            ? nothing
            : html`<tr class="total">
              <th scope="row">Together</th>
              <td>${sayMoney(total, '')}</td>
            </tr>`
        }
      </tbody>
    </table>`;
  }
}
