import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { SystemComparison } from '../../../core/PlanResult.ts';
import { formatLength, formatMass, G_PER_POUND } from '../../../core/units.ts';
import { readSaid } from '../../../report/readSaid.ts';
import { sayMinutes } from '../../../report/sayClock.ts';
import { sayMoney } from '../../../report/sayMoney.ts';
import { isStale, type SessionState } from '../../../session/SessionStore.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { letScroll } from './letScroll.ts';
import { mixStyles } from './mixStyles.ts';

/** A mass as heavy as this is written in pounds without ounces: shorter, and fine enough to compare by. */
const POUNDS_ALONE_G = 1000 * G_PER_POUND;
/** From here on a comparison needs no minutes. */
const HOURS_FROM_MIN = 10 * 60;

/** This very shell in other systems, each as thick as is usual in it: weight, weight in the hand, cost, time. */
@customElement('scute-system-comparison')
export class SystemComparisonTable extends LitElement {
  static override styles = [
    sharedStyles,
    mixStyles,
    css`
      .stale {
        color: var(--ink-soft);
      }
      tbody th {
        text-align: left;
        padding: 12px 0 0;
        border-bottom: none;
        font-weight: bold;
      }
      tbody td {
        text-align: right;
        padding-top: 2px;
        padding-left: 6px;
        font-size: 1rem;
      }
      tbody td:first-child {
        text-align: left;
      }
      tbody.chosen th {
        border-left: 3px solid var(--accent);
        padding-left: 10px;
      }
      td.notes {
        white-space: normal;
        text-align: left;
        padding: 0;
      }
      .now {
        white-space: nowrap;
        font-weight: normal;
        color: var(--ink-soft);
        font-size: var(--size-small);
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;

  override updated(): void {
    letScroll(this.renderRoot.querySelectorAll<HTMLElement>('.box'));
  }

  override render() {
    const { answer, plan } = this.session;
    const comparison = answer?.result.comparison ?? null;
    if (comparison === null) return html`<p class="note">It comes with the finished answer.</p>`;
    return html`
      <div
        class="box ${isStale(this.session) ? 'stale' : ''}"
        role="region"
        aria-label="Systems side by side"
      >
        <table>
          <caption class="visually-hidden">
            This shell in other systems, each at its usual thickness
          </caption>
          <thead>
            <tr>
              <th scope="col">Shell</th>
              <th scope="col">Heaviest</th>
              <th scope="col">Cost${plan.supplies.currency ? `, ${plan.supplies.currency}` : nothing}</th>
              <th scope="col">Time</th>
            </tr>
          </thead>
          ${comparison.map((one) => this.renderSystem(one))}
        </table>
      </div>
      <p class="small soft after">
        Weights dry; under the shell's what is laid up wet. The heaviest piece is as it is lifted, dry. Under the time, the
        hours at the bench. The plan's own system stands at the thickness of your coats, the others at what is usual in them; all as if nothing lay in the shop.
      </p>
    `;
  }

  private renderSystem(one: SystemComparison) {
    const { units } = this.session.prefs;
    const mass = (g: number) => formatMass(g, units, units === 'us' ? POUNDS_ALONE_G : g);
    return html`<tbody class=${one.isChosen ? 'chosen' : ''}>
      <tr>
        <th colspan="4" scope="rowgroup">
          ${one.name}
          <span class="now">
            ${formatLength(one.thicknessMm, units)} thick${one.isChosen ? ", the plan's own" : nothing}
          </span>
        </th>
      </tr>
      <tr>
        <td>
          ${mass(one.dryMassG)}<span class="bound">${mass(one.massG)} wet</span>
        </td>
        <td>${mass(one.heaviestG)}</td>
        <td>
          ${one.cost === null ? '\u2013' : sayMoney(one.cost, '')}${
            one.unpriced.length > 0
              ? html`<span class="bound" title=${one.unpriced.join(', ')}
                >${one.cost === null ? 'no prices' : `without ${one.unpriced.length}`}</span
              >`
              : nothing
          }
        </td>
        <td>
          ${sayRoughly(one.elapsedMin)}<span class="bound">${sayRoughly(one.attendedMin)}</span>
        </td>
      </tr>
      ${this.renderNotes(one)}
    </tbody>`;
  }

  /** What will not do in this system as it stands; said once, however many coats and pieces it is said of. */
  private renderNotes({ notes, name }: SystemComparison) {
    const texts = [...new Set(notes.map((note) => readSaid(note, 'text', this.session.prefs.units)))];
    if (texts.length === 0) return nothing;
    return html`<tr>
      <td class="notes" colspan="4">
        <details class="group">
          <summary aria-label="What will not do in ${name}">
            <span class="accent">${texts.length === 1 ? 'One thing' : `${texts.length} things`} will not do as it stands</span>
          </summary>
          <ul>
            ${texts.map((text) => html`<li class="problem">${text}</li>`)}
          </ul>
        </details>
      </td>
    </tr>`;
  }
}

/** A time for comparing: whole hours where it is long, five minutes where not. */
function sayRoughly(minutes: number): string {
  const step = minutes >= HOURS_FROM_MIN ? 60 : 5;
  return sayMinutes(Math.round(minutes / step) * step);
}
