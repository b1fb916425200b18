import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { BatchResult, TaskResult } from '../../../core/PlanResult.ts';
import type { UnitSystem } from '../../../core/units.ts';
import { sayClock, sayDay, sayMinutes } from '../../../report/sayClock.ts';
import { StartTimerEvent } from '../../day/StartTimerEvent.ts';
import { sayHands, sayStep } from '../../day/sayStep.ts';
import { stepTimer } from '../../day/stepTimer.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { panelStyles } from '../panelStyles.ts';

/** Every step in the order of the clock, as a table: what the picture of the day shows, to be read. */
@customElement('scute-steps')
export class StepTable extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      table {
        min-width: 100%;
      }
      td,
      th {
        text-align: left;
        padding-left: 0;
        padding-right: 8px;
      }
      tbody th {
        font-weight: bold;
        padding-top: 16px;
        border-bottom-color: var(--line);
      }
      td {
        white-space: normal;
        vertical-align: top;
      }
      td.clock {
        white-space: nowrap;
        font-weight: bold;
      }
      td .bound {
        white-space: normal;
      }
      button {
        white-space: nowrap;
        padding: 4px 6px;
      }
      tr.alone td {
        color: var(--ink-soft);
      }
    `,
  ];

  @property({ attribute: false }) tasks: readonly TaskResult[] = [];
  @property({ attribute: false }) batches: readonly BatchResult[] = [];
  @property({ attribute: false }) pieces: readonly { readonly id: string; readonly label: string }[] = [];
  @property({ attribute: false }) startDate: string | null = null;
  @property({ type: Number }) hands = 1;
  @property() units: UnitSystem = 'metric';

  override render() {
    const sorted = this.tasks.toSorted((a, b) => a.startMin - b.startMin || a.endMin - b.endMin);
    let day = '';
    return html`<table>
      <caption class="visually-hidden">
        Steps by clock time: when, what, who
      </caption>
      <thead>
        <tr>
          <th scope="col">Clock</th>
          <th scope="col">What</th>
          <th scope="col">Who</th>
          <th scope="col"><span class="visually-hidden">Timer</span></th>
        </tr>
      </thead>
      <tbody>
        ${sorted.map((task) => {
          const today = sayDay(task.startMin, this.startDate, this.units);
          const isNew = today !== day;
          day = today;
          return html`${isNew ? html`<tr><th colspan="4" scope="rowgroup">${capital(today)}</th></tr>` : nothing}
          ${this.renderStep(task)}`;
        })}
      </tbody>
    </table>`;
  }

  private renderStep(task: TaskResult) {
    const { bounds } = sayStep(task, this.startDate, this.hands, this.units);
    const timer = stepTimer(
      task,
      this.batches,
      (id) => this.pieces.find((piece) => piece.id === id)?.label ?? id,
    );
    return html`<tr class=${task.attended ? nothing : 'alone'}>
      <td class="clock">${sayClock(task.startMin, this.units)}</td>
      <td>
        ${task.what}, ${sayMinutes(task.endMin - task.startMin)}
        ${bounds ? html`<span class="bound">${bounds}</span>` : nothing}
      </td>
      <td>${sayHands(task, this.hands)}</td>
      <td>
        <button
          class="quiet"
          aria-label="Start a timer of ${sayMinutes(timer.minutes)}: ${timer.label}"
          @click=${() => this.dispatchEvent(new StartTimerEvent(timer))}
        >
          ${sayMinutes(timer.minutes)}
        </button>
      </td>
    </tr>`;
  }
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
