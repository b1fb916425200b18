import { css, html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { sayMoney } from '../../../report/sayMoney.ts';
import { isStale, type SessionState } from '../../../session/SessionStore.ts';
import { LateElement } from '../../parts/LateElement.ts';
import { sayPiece } from '../../sayPiece.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { capital } from './capital.ts';
import { mixStyles } from './mixStyles.ts';
import '../../parts/SortTable.ts';

/** What it all costs: in whole packs, and what each piece and coat takes of it. */
@customElement('scute-cost-table')
export class CostTable extends LateElement {
  static override styles = [
    sharedStyles,
    mixStyles,
    css`
      .stale {
        color: var(--ink-soft);
      }
      scute-table + scute-table {
        margin-top: 4px;
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
      ${this.renderRows('Of that each coat takes', cost.byCoat, capital)}
    </div>`;
  }

  /** `total`: what the amounts come to, where that is not said elsewhere. */
  private renderRows(
    title: string,
    amounts: Readonly<Record<string, number>>,
    say: (key: string) => string,
    total: number | null = null,
  ) {
    const entries = Object.entries(amounts);
    if (entries.length === 0) return nothing;
    const { currency } = this.session.plan.supplies;
    const rows = entries.map(([key, amount]) => ({
      key,
      cells: { what: { text: say(key) }, amount: { text: sayMoney(amount, ''), value: amount } },
    }));
    const totals =
      total === null
        ? []
        : [{ key: 'total', cells: { what: { text: 'Together' }, amount: { text: sayMoney(total, '') } } }];
    return html`<scute-table
      caption=${title}
      .columns=${[{ key: 'what', title }, { key: 'amount', title: currency || 'Price' }]}
      .rows=${rows}
      .totals=${totals}
    ></scute-table>`;
  }
}
