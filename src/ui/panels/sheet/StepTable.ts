import { html, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { BatchResult, TaskResult } from '../../../core/PlanResult.ts';
import type { UnitSystem } from '../../../core/units.ts';
import { sayClock, sayDay, sayMinutes } from '../../../report/sayClock.ts';
import { StartTimerEvent } from '../../day/StartTimerEvent.ts';
import { sayHands, sayStep } from '../../day/sayStep.ts';
import { stepTimer } from '../../day/stepTimer.ts';
import type { SortColumn, SortRow } from '../../parts/SortRow.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { capital } from '../mix/capital.ts';
import '../../parts/SortTable.ts';

const COLUMNS: readonly SortColumn[] = [
  { key: 'day', title: 'Day' },
  { key: 'clock', title: 'Clock' },
  { key: 'what', title: 'What', align: 'start' },
  { key: 'who', title: 'Who', align: 'start' },
  { key: 'timer', title: 'Timer', isBare: true },
];

/** Every step in the order of the clock, as a table: what the picture of the day shows, to be read. */
@customElement('scute-steps')
export class StepTable extends LitElement {
  static override styles = [sharedStyles];

  @property({ attribute: false }) tasks: readonly TaskResult[] = [];
  @property({ attribute: false }) batches: readonly BatchResult[] = [];
  @property({ attribute: false }) pieces: readonly { readonly id: string; readonly label: string }[] = [];
  /** Key of the job, whose timers are its own. */
  @property() job = '';
  @property({ attribute: false }) startDate: string | null = null;
  @property({ type: Number }) hands = 1;
  @property() units: UnitSystem = 'metric';

  override render() {
    const sorted = this.tasks.toSorted((a, b) => a.startMin - b.startMin || a.endMin - b.endMin);
    return html`<scute-table
      caption="Steps by clock time: when, what, who"
      .columns=${COLUMNS}
      .rows=${sorted.map((task) => this.rowOf(task))}
    ></scute-table>`;
  }

  private rowOf(task: TaskResult): SortRow {
    const { bounds } = sayStep(task, this.startDate, this.hands, this.units);
    const spanMin = task.endMin - task.startMin;
    const tone = task.attended ? {} : ({ tone: 'soft' } as const);
    return {
      key: task.id,
      cells: {
        day: { text: capital(sayDay(task.startMin, this.startDate, this.units)), value: task.startMin },
        clock: {
          text: sayClock(task.startMin, this.units),
          value: task.startMin,
          tone: task.attended ? 'strong' : 'soft',
        },
        what: { text: `${task.what}, ${sayMinutes(spanMin)}`, under: bounds === '' ? [] : [bounds], ...tone },
        who: { text: sayHands(task, this.hands), ...tone },
        timer: { text: '', view: this.renderTimer(task) },
      },
    };
  }

  private renderTimer(task: TaskResult) {
    const timer = stepTimer(
      this.job,
      task,
      this.batches,
      (id) => this.pieces.find((piece) => piece.id === id)?.label ?? id,
    );
    return html`<button
      class="quiet"
      aria-label="Start a timer of ${sayMinutes(timer.minutes)}: ${timer.label}"
      @click=${(event: Event) => event.target?.dispatchEvent(new StartTimerEvent(timer))}
    >
      ${sayMinutes(timer.minutes)}
    </button>`;
  }
}
