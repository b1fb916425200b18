import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { ShoppingItem } from '../../../core/PlanResult.ts';
import { formatMass } from '../../../core/units.ts';
import { readSaid } from '../../../report/readSaid.ts';
import { sayMoney } from '../../../report/sayMoney.ts';
import { isStale, type SessionState } from '../../../session/SessionStore.ts';
import { setStock, stockOf } from '../../../session/supplyActions.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import type { SortCell, SortColumn, SortRow } from '../../parts/SortRow.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { askEdit } from './askEdit.ts';
import { capital } from './capital.ts';
import { mixStyles } from './mixStyles.ts';
import '../../fields/MassField.ts';
import '../../parts/SortTable.ts';

const COLUMNS: readonly SortColumn[] = [
  { key: 'item', title: 'Item' },
  { key: 'buy', title: 'Buy' },
  { key: 'needed', title: 'Needed' },
  { key: 'stock', title: 'In the shop' },
  { key: 'left', title: 'Left over' },
];

/** What to buy: packs, what is left over, prices; beside each what lies in the shop already. */
@customElement('scute-shopping-list')
export class ShoppingList extends LitElement {
  static override styles = [
    sharedStyles,
    mixStyles,
    css`
      .stale {
        color: var(--ink-soft);
      }
      .item {
        display: grid;
        grid-template-columns: minmax(0, 1fr) 124px;
        gap: 2px 14px;
        align-items: start;
        padding: 12px 0;
        border-bottom: 1px solid var(--line-soft);
      }
      .name {
        font-weight: bold;
      }
      .buy {
        font-size: 1.25rem;
        font-weight: bold;
      }
      .about {
        font-size: var(--size-small);
        color: var(--ink-soft);
      }
      scute-mass-field {
        grid-column: 2;
        grid-row: 1 / span 4;
      }
      .left {
        grid-column: 1;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;

  override render() {
    const { answer, plan } = this.session;
    if (!answer) return html`<p class="note">The list comes with the first answer.</p>`;
    const { shopping } = answer.result;
    const { currency } = plan.supplies;
    const price = currency === '' ? 'Price' : `Price, ${currency}`;
    return html`
      <ul class=${isStale(this.session) ? 'stale' : ''}>
        ${shopping.map((item) => this.renderItem(item, currency))}
      </ul>
      <details class="group">
        <summary><span class="title">The same as a table</span><span class="said">to sort, to copy</span></summary>
        <scute-table
          caption="What to buy"
          .columns=${[...COLUMNS, { key: 'cost', title: price }]}
          .rows=${shopping.map((item) => this.rowOf(item))}
        ></scute-table>
      </details>
    `;
  }

  private rowOf(item: ShoppingItem): SortRow {
    const { units } = this.session.prefs;
    const { neededG, neededCount, inStockG, leftG, cost } = item;
    const unknown: SortCell = { text: '\u2013', value: null };
    const mass = (g: number | null): SortCell =>
      g === null ? unknown : { text: formatMass(g, units), value: g };
    return {
      key: item.item,
      cells: {
        item: { text: capital(item.item) },
        buy: { text: this.sayBuy(item) },
        needed: neededCount === null ? mass(neededG) : { text: `${neededCount}`, value: neededCount },
        stock: neededG === null ? unknown : mass(inStockG),
        left: neededG === null ? unknown : mass(leftG),
        cost: cost === null ? unknown : { text: sayMoney(cost, ''), value: cost },
      },
    };
  }

  private renderItem(item: ShoppingItem, currency: string) {
    const { plan, prefs } = this.session;
    return html`<li class="item">
      <div class="left">
        <div class="name">${capital(item.item)}</div>
        <div class="buy">${this.sayBuy(item)}</div>
        <div class="about">${this.sayAbout(item)}</div>
        <div class="about">${item.cost === null ? 'no price given' : sayMoney(item.cost, currency)}</div>
      </div>
      ${
        item.neededG === null
          ? nothing
          : html`<scute-mass-field
            label="In the shop"
            optional
            orNone
            placeholder="none"
            .g=${stockOf(plan, item.item)}
            .system=${prefs.units}
            @value=${(e: ValueEvent<number | null>) => askEdit(this, setStock(item.item, e.value))}
          ></scute-mass-field>`
      }
    </li>`;
  }

  private sayBuy({ packs, packG, neededG, neededCount, inStockG }: ShoppingItem): string {
    const { units } = this.session.prefs;
    if (packs === 0) return 'enough there';
    if (packs !== null && packG !== null) {
      const pack = neededG === null ? `pack of ${packG}` : formatMass(packG, units);
      return `${packs} \u00d7 ${pack}`;
    }
    if (neededG !== null) {
      const toBuyG = Math.max(0, neededG - inStockG);
      return toBuyG === 0 ? 'enough there' : formatMass(toBuyG, units);
    }
    return neededCount === null ? '\u2013' : `${neededCount}`;
  }

  private sayAbout(item: ShoppingItem): string {
    const { neededG, neededCount, leftG, packG } = item;
    const { units } = this.session.prefs;
    const say = readSaid(item, 'say', units);
    return [
      ...(neededG === null ? [] : [`needed ${formatMass(neededG, units)}`]),
      ...(neededCount === null ? [] : [`needed ${neededCount}`]),
      ...(leftG === null || neededG === null ? [] : [`${formatMass(leftG, units)} left over`]),
      ...(packG === null ? ['no pack given'] : []),
      ...(say === '' ? [] : [say]),
    ].join(', ');
  }
}
