import { css, html } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { SystemComparison } from '../../../core/PlanResult.ts';
import { formatLength, formatMass, G_PER_POUND } from '../../../core/units.ts';
import { readSaid } from '../../../report/readSaid.ts';
import { sayMinutes } from '../../../report/sayClock.ts';
import { sayMoney } from '../../../report/sayMoney.ts';
import { isStale, type SessionState } from '../../../session/SessionStore.ts';
import { LateElement } from '../../parts/LateElement.ts';
import type { SortRow } from '../../parts/SortRow.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { mixStyles } from './mixStyles.ts';
import '../../parts/SortTable.ts';

/** A mass as heavy as this is written in pounds without ounces: shorter, and fine enough to compare by. */
const POUNDS_ALONE_G = 1000 * G_PER_POUND;
/** From here on a comparison needs no minutes. */
const HOURS_FROM_MIN = 10 * 60;

/** This very shell in other systems, each as thick as is usual in it: weight, weight in the hand, cost, time. */
@customElement('scute-system-comparison')
export class SystemComparisonTable extends LateElement {
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
    const { currency } = plan.supplies;
    const comparison = answer?.result.comparison ?? null;
    if (comparison === null) return html`<p class="note">It comes with the finished answer.</p>`;
    return html`
      <scute-table
        class=${isStale(this.session) ? 'stale' : ''}
        isNameAbove
        caption="This shell in other systems, each at its usual thickness"
        .columns=${[
          { key: 'system', title: 'System' },
          { key: 'shell', title: 'Shell', align: 'start' },
          { key: 'heaviest', title: 'Heaviest' },
          { key: 'cost', title: currency === '' ? 'Cost' : `Cost, ${currency}` },
          { key: 'time', title: 'Time' },
        ]}
        .rows=${comparison.map((one) => this.rowOf(one))}
      ></scute-table>
      <p class="small soft after">
        Weights dry; under the shell's what is laid up wet. The heaviest piece is as it is lifted, dry. Under the time, the
        hours at the bench. The plan's own system stands at the thickness of your coats, the others at what is usual in them; all as if nothing lay in the shop.
      </p>
    `;
  }

  private rowOf(one: SystemComparison): SortRow {
    const { units } = this.session.prefs;
    const mass = (g: number) => formatMass(g, units, units === 'us' ? POUNDS_ALONE_G : g);
    const thick = `${formatLength(one.thicknessMm, units)} thick`;
    const unpriced = one.cost === null ? 'no prices' : `without ${one.unpriced.length}`;
    const detail = this.renderNotes(one);
    return {
      key: one.systemId,
      isMarked: one.isChosen,
      cells: {
        system: {
          text: one.name,
          under: [thick, ...(one.isChosen ? ["the plan's own"] : [])],
          tone: 'strong',
        },
        shell: { text: mass(one.dryMassG), under: [`${mass(one.massG)} wet`], value: one.dryMassG },
        heaviest: { text: mass(one.heaviestG), value: one.heaviestG },
        cost: {
          text: one.cost === null ? '\u2013' : sayMoney(one.cost, ''),
          under: one.unpriced.length > 0 ? [unpriced] : [],
          value: one.cost,
        },
        time: {
          text: sayRoughly(one.elapsedMin),
          under: [sayRoughly(one.attendedMin)],
          value: one.elapsedMin,
        },
      },
      ...(detail ? { detail } : {}),
    };
  }

  /** What will not do in this system as it stands; said once, however many coats and pieces it is said of. */
  private renderNotes({ notes, name }: SystemComparison) {
    const texts = [...new Set(notes.map((note) => readSaid(note, 'text', this.session.prefs.units)))];
    if (texts.length === 0) return null;
    return html`<details class="will-not">
      <summary aria-label="What will not do in ${name}">
        ${texts.length === 1 ? 'One thing' : `${texts.length} things`} will not do as it stands
      </summary>
      <ul>
        ${texts.map((text) => html`<li class="problem">${text}</li>`)}
      </ul>
    </details>`;
  }
}

/** A time for comparing: whole hours where it is long, five minutes where not. */
function sayRoughly(minutes: number): string {
  const step = minutes >= HOURS_FROM_MIN ? 60 : 5;
  return sayMinutes(Math.round(minutes / step) * step);
}
