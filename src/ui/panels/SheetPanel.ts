import { html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { batchesCsv } from '../../report/batchesCsv.ts';
import { writeCalendar } from '../../report/calendar/writeCalendar.ts';
import { fileStem } from '../../session/planFile.ts';
import { isStale, type PlanEdit, type SessionState } from '../../session/SessionStore.ts';
import { setJobName, setShopName } from '../../session/scanActions.ts';
import { startTimer } from '../../session/timers.ts';
import { failureOf } from '../control/failureOf.ts';
import type { ShopState } from '../control/ShopKeeper.ts';
import { StartTimerEvent } from '../day/StartTimerEvent.ts';
import { CommandEvent, PlanEditEvent, PrefsEvent } from '../events.ts';
import type { ValueEvent } from '../fields/ValueEvent.ts';
import { saveBlob } from '../saveBlob.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { panelStyles } from './panelStyles.ts';
import '../day/TimerList.ts';
import '../fields/TextField.ts';
import './FoldSection.ts';
import './sheet/BatchLog.ts';
import './sheet/DaySection.ts';
import './sheet/ProbeList.ts';
import './sheet/ShopOffers.ts';
import '../parts/TermLine.ts';
import './sheet/WhenFields.ts';

/** Stage 5: names, the ways out of the page, when it is done, what is done next, and how it went. */
@customElement('scute-sheet-panel')
export class SheetPanel extends LitElement {
  static override styles = [sharedStyles, panelStyles];

  @property({ attribute: false }) session!: SessionState;
  @property({ attribute: false }) shop!: ShopState;
  /** Why the calendar was not written, or ''. */
  @state() private problem = '';

  override connectedCallback(): void {
    super.connectedCallback();
    this.addEventListener(StartTimerEvent.type, this.onStartTimer);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.removeEventListener(StartTimerEvent.type, this.onStartTimer);
  }

  override render() {
    const { plan, answer, prefs } = this.session;
    const batches = answer?.result.batches ?? [];
    const done = batches.filter(({ loggedG }) => loggedG !== null).length;
    const section = (key: string, label: string, note: string, body: unknown) => html`<scute-section
      key=${key}
      label=${label}
      note=${note}
      .folded=${prefs.folded}
      >${body}</scute-section
    >`;
    return html`
      <h2>Sheet</h2>
      <p class="lead">Set the day, print the sheet, tick off what is on the wall.</p>
      <scute-terms .words=${['batch', 'working time', 'partial cure', 'full cure']}></scute-terms>
      ${this.renderWaysOut()}
      ${section(
        'sheet-log',
        'Batches',
        batches.length > 0 ? `${done} of ${batches.length} done` : '',
        html`<scute-batch-log .session=${this.session}></scute-batch-log>
          <scute-shop-offers .shop=${this.shop} .units=${prefs.units}></scute-shop-offers>`,
      )}
      ${section(
        'sheet-timers',
        'Timers',
        prefs.timers.length > 0 ? String(prefs.timers.length) : '',
        html`<scute-timers .timers=${prefs.timers} .isAlarmHeard=${prefs.isAlarmHeard}></scute-timers>`,
      )}
      ${section('sheet-when', 'When', '', html`<scute-when .session=${this.session}></scute-when>`)}
      ${section('sheet-day', 'The day', '', html`<scute-day .session=${this.session}></scute-day>`)}
      ${section(
        'sheet-probes',
        'Thickness by the pin',
        '',
        html`<scute-probes .session=${this.session}></scute-probes>`,
      )}
      <scute-section rare key="sheet-names" label="Names on the sheet" note=${plan.job.name} .folded=${prefs.folded}>
        <div class="stack names">
          <scute-text-field
            label="Job"
            .value=${plan.job.name}
            @value=${(e: ValueEvent<string>) => this.edit(setJobName(e.value))}
          ></scute-text-field>
          <scute-text-field
            label="Shop"
            optional
            .value=${plan.job.shop}
            @value=${(e: ValueEvent<string>) => this.edit(setShopName(e.value))}
          ></scute-text-field>
        </div>
      </scute-section>
    `;
  }

  private renderWaysOut() {
    const { answer, plan } = this.session;
    // What is printed or handed on must be the plan's own, and fine.
    const isReady = answer?.isFinal === true && !isStale(this.session);
    const hasDate = plan.day.startDate !== null;
    return html`
      <div class="row actions">
        <button class="primary" ?disabled=${!isReady} @click=${() => this.ask({ do: 'print' })}>Print</button>
        <button ?disabled=${!answer} @click=${() => this.ask({ do: 'save-bundle' })}>Save the plan</button>
        <button ?disabled=${!answer} @click=${() => this.ask({ do: 'save-plan' })}>Plan without scan</button>
        <button
          ?disabled=${!isReady || !hasDate}
          aria-describedby=${hasDate ? nothing : 'no-date'}
          @click=${this.saveCalendar}
        >
          Calendar
        </button>
        <button ?disabled=${!isReady} @click=${this.saveBatches}>Batches for a spreadsheet</button>
      </div>
      ${hasDate ? nothing : html`<p id="no-date" class="small soft after">The calendar needs a first day, under When.</p>`}
      ${this.problem ? html`<p class="problem" role="alert">${this.problem}</p>` : nothing}
    `;
  }

  private readonly saveCalendar = (): void => {
    const { answer, plan, prefs } = this.session;
    const { startDate } = plan.day;
    if (!answer || startDate === null) return;
    try {
      const text = writeCalendar(plan, answer.result, { startDate, nowUtc: new Date(), units: prefs.units });
      saveBlob(`${fileStem(plan)}.ics`, new Blob([text], { type: 'text/calendar' }));
      this.problem = '';
    } catch (error) {
      this.problem = failureOf(error).message;
    }
  };

  private readonly saveBatches = (): void => {
    const { answer, plan } = this.session;
    if (!answer) return;
    const text = batchesCsv(plan, answer.result);
    saveBlob(`${fileStem(plan)}-batches.csv`, new Blob([text], { type: 'text/csv' }));
  };

  private readonly onStartTimer = (event: Event): void => {
    const { timer } = event as StartTimerEvent;
    const { timers } = this.session.prefs;
    this.dispatchEvent(new PrefsEvent({ timers: startTimer(timers, timer, Date.now()) }));
  };

  private edit(edit: PlanEdit): void {
    this.dispatchEvent(new PlanEditEvent(edit));
  }

  private ask(command: CommandEvent['command']): void {
    this.dispatchEvent(new CommandEvent(command));
  }
}
