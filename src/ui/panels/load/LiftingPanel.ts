import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { HandlingResult } from '../../../core/PlanResult.ts';
import type { LiftingPlan } from '../../../core/plan/PlanDocument.ts';
import { formatMass } from '../../../core/units.ts';
import { CARRY_WORDS } from '../../../report/carryWords.ts';
import { readSaid } from '../../../report/readSaid.ts';
import {
  setGrip,
  setLiftHeights,
  setLiftsPerMin,
  setReach,
  setTwist,
} from '../../../session/liftingActions.ts';
import { isStale, type PlanEdit, type SessionState } from '../../../session/SessionStore.ts';
import { PlanEditEvent } from '../../events.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import type { SortColumn, SortRow } from '../../parts/SortRow.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { mixStyles } from '../mix/mixStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import { loadStyles } from './loadStyles.ts';
import '../../fields/ChoiceField.ts';
import '../../fields/LengthField.ts';
import '../../fields/NumberField.ts';
import '../../parts/SortTable.ts';

/** A first reach of the user's own, mm: forearms' length in front of the ankles. Own choice, to be changed at once. */
const FIRST_REACH_MM = 400;

/** From the lightest to the heaviest. */
const CARRIES: readonly HandlingResult['carry'][] = ['one', 'two', 'hoist'];

const LIFT_COLUMNS: readonly SortColumn[] = [
  { key: 'what', title: 'What' },
  { key: 'mass', title: 'Weight' },
  { key: 'limit', title: 'Limit' },
  { key: 'index', title: 'Index' },
  { key: 'carry', title: 'Carried by' },
];

/** Each piece and the whole mould in the hands: weight, one person's limit by the lifting equation, who or what carries it. */
@customElement('scute-lifting-panel')
export class LiftingPanel extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    mixStyles,
    loadStyles,
    css`
    `,
  ];

  @property({ attribute: false }) session!: SessionState;

  override render() {
    const { answer } = this.session;
    if (!answer) return html`<p class="note">The weights come with the first answer.</p>`;
    const { handling, cautions } = answer.result;
    return html`
      <scute-table
        class=${isStale(this.session) ? 'stale' : ''}
        caption="Lifts"
        .columns=${LIFT_COLUMNS}
        .rows=${handling.map((lift) => this.rowOf(lift))}
      ></scute-table>
      ${
        handling.some(({ carry }) => carry === 'two')
          ? html`<p class="small after">
              Two do not share a load evenly: whoever stands nearer to its centre of mass takes more.
            </p>`
          : nothing
      }
      <details class="group">
        <summary><span class="title">How it is lifted</span></summary>
        ${this.renderHow()}
      </details>
      <p class="basis">
        Limit by the lifting equation of NIOSH 94-110 (Waters, Putz-Anderson and Garg, 2021); the index is the weight
        over it, to be 1 or less.
      </p>
      ${cautions
        .filter(({ step }) => step === 'Lifting')
        .map(
          (caution) => html`<p class="problem">${readSaid(caution, 'text', this.session.prefs.units)}</p>`,
        )}
    `;
  }

  private rowOf({ what, massKg, limitKg, liftingIndex, carry }: HandlingResult): SortRow {
    const { units } = this.session.prefs;
    const isCovered = liftingIndex !== null;
    return {
      key: what,
      cells: {
        what: { text: what },
        mass: { text: formatMass(1000 * massKg, units), value: massKg, tone: 'strong' },
        limit: isCovered
          ? { text: formatMass(1000 * limitKg, units), value: limitKg }
          : { text: 'not covered', under: ['by the equation'], value: null },
        index: { text: isCovered ? liftingIndex.toFixed(1) : '\u2013', value: liftingIndex },
        carry: {
          text: CARRY_WORDS[carry],
          value: CARRIES.indexOf(carry),
          ...(carry === 'one' ? {} : { tone: 'warn' }),
        },
      },
    };
  }

  private renderHow() {
    const { plan, prefs } = this.session;
    const { horizontalMm, fromMm, toMm, asymmetryDeg, grip, liftsPerMin } = plan.lifting;
    const length = (label: string, mm: number, edit: (mm: number) => PlanEdit, gesture: string) =>
      html`<scute-length-field
        label=${label}
        orNone
        .mm=${mm}
        .system=${prefs.units}
        max="3000"
        @value=${(e: ValueEvent<number>) => this.edit(edit(e.value), e.isGesture ? gesture : null)}
      ></scute-length-field>`;
    return html`<div class="fields">
      <scute-choice
        label="Reach of the hands"
        .options=${[{ value: 'auto', text: "by the piece's depth" }, { value: 'own', text: 'yours' }]}
        .value=${horizontalMm === 'auto' ? 'auto' : 'own'}
        class="wide"
        @value=${(e: ValueEvent<string>) => this.edit(setReach(e.value === 'auto' ? 'auto' : FIRST_REACH_MM))}
      ></scute-choice>
      ${
        horizontalMm === 'auto'
          ? nothing
          : html`<div class="wide">
              ${length("Hands in front of the ankles' middle", horizontalMm, setReach, 'reach')}
            </div>`
      }
      ${length('Lifted from, above the floor', fromMm, (mm) => setLiftHeights(mm, toMm), 'lift-from')}
      ${length('Lifted to', toMm, (mm) => setLiftHeights(fromMm, mm), 'lift-to')}
      <scute-number-field
        label="Turn of the body"
        unit="°"
        .value=${asymmetryDeg}
        min="0"
        max="135"
        step="5"
        @value=${(e: ValueEvent<number>) => this.edit(setTwist(e.value), e.isGesture ? 'twist' : null)}
      ></scute-number-field>
      <scute-number-field
        label="Lifts a minute"
        .value=${liftsPerMin}
        min="0.01"
        max="15"
        step="0.1"
        @value=${(e: ValueEvent<number>) => this.edit(setLiftsPerMin(e.value), e.isGesture ? 'lifts' : null)}
      ></scute-number-field>
      <scute-choice
        class="wide"
        label="Grip"
        .options=${['good', 'fair', 'poor'].map((value) => ({ value, text: value }))}
        .value=${grip}
        @value=${(e: ValueEvent<string>) => this.edit(setGrip(e.value as LiftingPlan['grip']))}
      ></scute-choice>
    </div>`;
  }

  private edit(edit: PlanEdit, gesture: string | null = null): void {
    this.dispatchEvent(new PlanEditEvent(edit, gesture));
  }
}
