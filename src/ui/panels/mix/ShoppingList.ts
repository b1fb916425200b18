import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { ShoppingItem } from '../../../core/PlanResult.ts';
import { formatMass } from '../../../core/units.ts';
import { readSaid } from '../../../report/readSaid.ts';
import { sayMoney } from '../../../report/sayMoney.ts';
import { isStale, type SessionState } from '../../../session/SessionStore.ts';
import { setStock, stockOf } from '../../../session/supplyActions.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { askEdit } from './askEdit.ts';
import { capital } from './capital.ts';
import { mixStyles } from './mixStyles.ts';
import '../../fields/MassField.ts';

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
    return html`<ul class=${isStale(this.session) ? 'stale' : ''}>
      ${answer.result.shopping.map((item) => this.renderItem(item, plan.supplies.currency))}
    </ul>`;
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
