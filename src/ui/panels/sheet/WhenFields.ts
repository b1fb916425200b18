import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { DayStep } from '../../../core/plan/PlanDocument.ts';
import { setHands } from '../../../session/benchActions.ts';
import {
  movePieceInOrder,
  orderOfPieces,
  setStartDate,
  setStepMinutes,
  setWeekends,
  setWorkingHours,
} from '../../../session/dayActions.ts';
import type { PlanEdit, SessionState } from '../../../session/SessionStore.ts';
import { PlanEditEvent } from '../../events.ts';
import { fieldStyles } from '../../fields/fieldStyles.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { downIcon, upIcon } from '../../icons.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { mixStyles } from '../mix/mixStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import '../../fields/NumberField.ts';

/** Hands that a small shop may have at once; more are a slip of the keyboard. Own choice. */
const MOST_HANDS = 12;

/** The steps that no material sets, in the order of the work, with the words for their minutes. */
const STEPS: readonly { readonly step: DayStep; readonly label: string; readonly unit: string }[] = [
  { step: 'wallPerM', label: 'Parting wall and shims', unit: 'min a metre' },
  { step: 'releaseBrush', label: 'Release, brushing', unit: 'min' },
  { step: 'releaseDry', label: 'Release, drying', unit: 'min' },
  { step: 'setOut', label: 'Setting out the batches', unit: 'min' },
  { step: 'shimsOut', label: 'Shims out', unit: 'min' },
  { step: 'edgeClean', label: 'Edge cleaned', unit: 'min' },
  { step: 'trimPerPiece', label: 'Trimming a piece', unit: 'min' },
  { step: 'open', label: 'Opening', unit: 'min' },
  { step: 'assemble', label: 'First assembly', unit: 'min' },
];

/** When the work is done: first day, hours, hands, order of the pieces, minutes of the steps that no material sets. */
@customElement('scute-when')
export class WhenFields extends LitElement {
  static override styles = [
    sharedStyles,
    fieldStyles,
    panelStyles,
    mixStyles,
    css`
      .check {
        color: var(--ink);
        font-size: var(--size-body);
        margin: 0;
      }
      li {
        display: flex;
        align-items: center;
        gap: 8px;
        padding: 4px 0;
        border-bottom: 1px solid var(--line-soft);
      }
      li .name {
        flex: 1;
        min-width: 0;
      }
      li button {
        padding: 6px;
      }
      .label {
        font-size: var(--size-small);
        color: var(--ink-soft);
        margin-top: 14px;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  @state() private problem = '';

  override render() {
    const { day, bench } = this.session.plan;
    return html`
      <div class="fields">
        <div>
          <label for="date">First day</label>
          <input
            id="date"
            type="date"
            .value=${day.startDate ?? ''}
            @change=${(e: Event) => this.edit(setStartDate(inputOf(e).value || null))}
          />
        </div>
        <scute-number-field
          label="Pairs of hands"
          .value=${bench.hands}
          min="1"
          max=${MOST_HANDS}
          step="1"
          digits="0"
          @value=${(e: ValueEvent<number>) => this.edit(setHands(Math.round(e.value)))}
        ></scute-number-field>
        <div>
          <label for="from">Work begins</label>
          <input
            id="from"
            type="time"
            aria-invalid=${this.problem ? 'true' : 'false'}
            aria-describedby="hours"
            .value=${clockOf(day.fromMin)}
            @change=${(e: Event) => this.setHours(minutesOf(inputOf(e).value), day.toMin)}
          />
        </div>
        <div>
          <label for="to">Work ends</label>
          <input
            id="to"
            type="time"
            aria-invalid=${this.problem ? 'true' : 'false'}
            aria-describedby="hours"
            .value=${clockOf(day.toMin)}
            @change=${(e: Event) => this.setHours(day.fromMin, minutesOf(inputOf(e).value))}
          />
        </div>
        <div id="hours" class="wide wrong" role="alert" ?hidden=${!this.problem}>${this.problem}</div>
        <label class="check wide">
          <input
            type="checkbox"
            .checked=${day.weekends}
            @change=${(e: Event) => this.edit(setWeekends(inputOf(e).checked))}
          />
          Saturdays and Sundays too
        </label>
      </div>
      ${this.renderOrder()}
      <details class="group after">
        <summary><span class="title">Minutes of the other steps</span><span class="said">those no material sets</span></summary>
        <div class="fields">
          ${STEPS.map(
            ({ step, label, unit }) => html`<scute-number-field
              label=${label}
              unit=${unit}
              .value=${day.stepMin[step]}
              min="0"
              max="10000"
              step="5"
              digits="1"
              @value=${(e: ValueEvent<number>) =>
                this.edit(setStepMinutes(step, e.value), e.isGesture ? `step-${step}` : null)}
            ></scute-number-field>`,
          )}
        </div>
        <p class="small soft after">
          To begin with: common practice, no source; half an hour for the release to dry is one supplier's figure. The
          release's own sheet wins.
        </p>
      </details>
    `;
  }

  private renderOrder() {
    const { plan, answer } = this.session;
    const pieces = answer?.result.pieces ?? [];
    if (pieces.length < 2) return nothing;
    const ids = pieces.map(({ id }) => id);
    const order = orderOfPieces(plan.day, ids);
    return html`<p class="label" id="order">Order in which the pieces are built</p>
      <ol aria-labelledby="order">
        ${order.map((id, i) => {
          const name = pieces.find((piece) => piece.id === id)?.name ?? id;
          return html`<li>
            <span class="name"><span class="swatch piece-${ids.indexOf(id) % 6}"></span>${i + 1}. ${name}</span>
            <button
              class="quiet"
              aria-label="Build ${name} earlier"
              ?disabled=${i === 0}
              @click=${() => this.edit(movePieceInOrder(ids, id, -1))}
            >
              ${upIcon}
            </button>
            <button
              class="quiet"
              aria-label="Build ${name} later"
              ?disabled=${i === order.length - 1}
              @click=${() => this.edit(movePieceInOrder(ids, id, 1))}
            >
              ${downIcon}
            </button>
          </li>`;
        })}
      </ol>`;
  }

  private setHours(fromMin: number, toMin: number): void {
    this.problem = toMin > fromMin ? '' : 'Work must end after it begins, on the same day.';
    if (!this.problem) this.edit(setWorkingHours(fromMin, toMin));
  }

  private edit(edit: PlanEdit, gesture: string | null = null): void {
    this.dispatchEvent(new PlanEditEvent(edit, gesture));
  }
}

const inputOf = (event: Event): HTMLInputElement => event.target as HTMLInputElement;

/** "08:00" as a time field has it; midnight at the end of a day is its last minute there. */
function clockOf(minutes: number): string {
  const within = Math.min(minutes, 24 * 60 - 1);
  return `${String(Math.floor(within / 60)).padStart(2, '0')}:${String(within % 60).padStart(2, '0')}`;
}

/** Minutes after midnight of "08:00"; an emptied field gives NaN, which no action takes. */
function minutesOf(clock: string): number {
  const [hours, minutes] = clock.split(':').map(Number);
  return hours * 60 + minutes;
}
