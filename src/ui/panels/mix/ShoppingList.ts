import { css, html } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { ShoppingItem } from '../../../core/PlanResult.ts';
import { formatMass } from '../../../core/units.ts';
import { readSaid } from '../../../report/readSaid.ts';
import { sayMoney } from '../../../report/sayMoney.ts';
import { isStale, type SessionState } from '../../../session/SessionStore.ts';
import { setStock, stockOf } from '../../../session/supplyActions.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { LateElement } from '../../parts/LateElement.ts';
import type { SortCell, SortColumn, SortRow } from '../../parts/SortRow.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { askEdit } from './askEdit.ts';
import { capital } from './capital.ts';
import { mixStyles } from './mixStyles.ts';
import '../../fields/MassField.ts';
import '../../parts/SortTable.ts';

const COLUMNS: readonly SortColumn[] = [
  { key: 'item', title: 'Item' },
  { key: 'buy', title: 'Buy', align: 'start' },
  { key: 'needed', title: 'Needed' },
  { key: 'stock', title: 'In the shop' },
];

/** What to buy: packs, what is left over, prices; beside each what lies in the shop already. */
@customElement('scute-shopping-list')
export class ShoppingList extends LateElement {
  static override styles = [
    sharedStyles,
    mixStyles,
    css`
      .stale {
        color: var(--ink-soft);
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
    return html`<scute-table
      class=${isStale(this.session) ? 'stale' : ''}
      isNameAbove
      caption="What to buy"
      .columns=${[...COLUMNS, { key: 'cost', title: price }]}
      .rows=${shopping.map((item) => this.rowOf(item))}
    ></scute-table>`;
  }

  private rowOf(item: ShoppingItem): SortRow {
    const { units } = this.session.prefs;
    const { neededG, neededCount, packs, packG, leftG, cost } = item;
    const say = readSaid(item, 'say', units);
    const isUnpacked = packG === null && packs !== 0;
    return {
      key: item.item,
      cells: {
        item: { text: capital(item.item), under: say === '' ? [] : [say], tone: 'strong' },
        buy: { text: this.sayBuy(item), under: isUnpacked ? ['no pack given'] : [], tone: 'strong' },
        needed: {
          text:
            neededG !== null
              ? formatMass(neededG, units)
              : neededCount === null
                ? '\u2013'
                : `${neededCount}`,
          under: leftG === null || neededG === null ? [] : [`${formatMass(leftG, units)} left`],
          value: neededG ?? neededCount,
        },
        stock: this.stockCell(item),
        cost: cost === null ? { text: '\u2013', value: null } : { text: sayMoney(cost, ''), value: cost },
      },
    };
  }

  /** What lies in the shop, typed in place. What is counted, not weighed, has none. */
  private stockCell({ item, neededG }: ShoppingItem): SortCell {
    if (neededG === null) return { text: '\u2013', value: null };
    const { plan, prefs } = this.session;
    const stockG = stockOf(plan, item);
    return {
      text: stockG === null ? '' : formatMass(stockG, prefs.units),
      value: stockG,
      view: html`<scute-mass-field
        class="typed"
        bare
        label="In the shop: ${item}"
        optional
        orNone
        placeholder="none"
        .g=${stockG}
        .system=${prefs.units}
        @value=${(e: ValueEvent<number | null>) => askEdit(this, setStock(item, e.value))}
      ></scute-mass-field>`,
    };
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
}
