import { html, LitElement, nothing, type PropertyValues } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { BatchResult, CoatWork, PlanResult, TaskResult } from '../../core/PlanResult.ts';
import type { LoggedBatch } from '../../core/plan/PlanDocument.ts';
import { formatLength, formatMass } from '../../core/units.ts';
import { cautionsBeside } from '../../report/calendar/cautionsBeside.ts';
import { writeShopTime } from '../../report/calendar/writeShopTime.ts';
import { readSaid } from '../../report/readSaid.ts';
import { sayMinutes } from '../../report/sayClock.ts';
import {
  type BenchProgress,
  carryProgress,
  emptyBucket,
  type Pour,
  progressOf,
  putProgress,
  tickStep,
  turnPart,
  untickStep,
} from '../../session/benchProgress.ts';
import { logBatch, unlogBatch } from '../../session/logActions.ts';
import { isStale, type PlanEdit, type SessionState } from '../../session/SessionStore.ts';
import { carryTimers, startTimer, stopTimer, type Timer } from '../../session/timers.ts';
import type { ViewPrefs } from '../../session/ViewPrefs.ts';
import { announce } from '../announce.ts';
import { ClockTick } from '../day/ClockTick.ts';
import { layMinOf } from '../day/layMinOf.ts';
import { isBellAwake, ringBell, wakeBell } from '../day/ringBell.ts';
import { sayStep } from '../day/sayStep.ts';
import { cureTimerId, type StepTimer, workingTimer } from '../day/stepTimer.ts';
import { timersAfterBatch } from '../day/timersAfterBatch.ts';
import { PlanEditEvent, PrefsEvent } from '../events.ts';
import type { ValueEvent } from '../fields/ValueEvent.ts';
import { capital } from '../panels/mix/capital.ts';
import { sayWeighing } from '../panels/mix/sayWeighing.ts';
import type { BatchFigures } from '../panels/sheet/BatchForm.ts';
import { sayReplan } from '../panels/sheet/sayReplan.ts';
import { sharedStyles } from '../sharedStyles.ts';
import type { PourLine } from './BatchPour.ts';
import { type BenchStep, isWait } from './BenchStep.ts';
import { benchScreenStyles } from './benchScreenStyles.ts';
import { benchStyles } from './benchStyles.ts';
import { findDueStep } from './findDueStep.ts';
import { findMeetingPart } from './findMeetingPart.ts';
import { listBenchSteps } from './listBenchSteps.ts';
import { hasPlanMovedOn, pourLines, systemOf } from './pourLines.ts';
import { ScreenWake } from './ScreenWake.ts';
import { splitCaution } from './splitCaution.ts';
import { startDueWaits } from './startDueWaits.ts';
import { TimerAlarm } from './TimerAlarm.ts';
import { TurnPartEvent } from './TurnPartEvent.ts';
import { stepsAfter, tellStep } from './tellStep.ts';
import { waitTimer } from './waitTimer.ts';
import '../panels/sheet/BatchForm.ts';
import './BatchPour.ts';
import './StepCard.ts';
import './TimerStrip.ts';
import './WaitClock.ts';

/** What was just ticked, and how it is taken back whole. */
interface Undo {
  readonly said: string;
  readonly edit: PlanEdit | null;
  /** As they were, and under which key: the very step may have made it a kept plan. */
  readonly jobKey: string;
  readonly timers: readonly Timer[];
  readonly bench: readonly BenchProgress[];
}

/**
 * The bench: the steps of the work one at a time, to be read from a metre away and ticked with a thumb. Batches go into the
 * plan's log, all other ticks into the preferences, timers run by the shop's clock: nothing is lost by a reload.
 */
@customElement('scute-bench')
export class BenchScreen extends LitElement {
  static override styles = [sharedStyles, benchStyles, benchScreenStyles];

  @property({ attribute: false }) session!: SessionState;

  @state() private undo: Undo | null = null;
  @state() private isAsking = false;
  @query('.do') private doButton!: HTMLButtonElement | null;
  @query('main') private main!: HTMLElement;

  private steps: readonly BenchStep[] = [];
  private step: BenchStep | null = null;
  private due: BenchStep | null = null;
  /** Which step stays in sight until the user moves on, also while the plan does. */
  private held: string | null = null;
  private saidStep: string | null = null;
  private readonly clock = new ClockTick(this, () => true);
  private readonly wake = new ScreenWake(this);
  private readonly alarm = new TimerAlarm(
    this,
    () => this.session.prefs.timers,
    () => this.session.prefs.isAlarmHeard,
  );

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('keydown', this.onKey);
    this.addEventListener('pointerdown', this.onTouch);
    this.addEventListener(TurnPartEvent.type, this.onTurnPart);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener('keydown', this.onKey);
    this.removeEventListener('pointerdown', this.onTouch);
    this.removeEventListener(TurnPartEvent.type, this.onTurnPart);
  }

  protected override willUpdate(): void {
    const { result } = this;
    if (!result) {
      this.steps = [];
      this.step = null;
      this.due = null;
      return;
    }
    const { plan, prefs } = this.session;
    const progress = this.progress;
    this.steps = listBenchSteps(result, plan.log, progress.ticks);
    this.due = findDueStep(this.steps, prefs.timers, Date.now(), (step) => this.waitOf(step)?.id ?? step.id);
    const find = (id: string | null) => this.steps.find((step) => step.id === id) ?? null;
    this.step = find(progress.at) ?? find(this.held) ?? this.due;
    this.held = this.step?.id ?? null;
  }

  protected override firstUpdated(): void {
    this.doButton?.focus();
  }

  protected override updated(_changed: PropertyValues<this>): void {
    const id = this.step?.id ?? null;
    if (id === this.saidStep) return;
    this.saidStep = id;
    this.main.scrollTop = 0;
    announce(
      this.step ? `Step ${this.place} of ${this.steps.length}: ${this.step.what}` : 'All steps are done.',
    );
  }

  override render() {
    const { prefs } = this.session;
    return html`
      ${this.renderHead()}
      <main aria-busy=${this.isWaiting}>
        ${this.renderUndo()}
        <scute-timer-strip .timers=${prefs.timers} .without=${this.timerInSight}></scute-timer-strip>
        ${this.renderTrouble()} ${this.step ? this.renderStep(this.step) : this.renderNoStep()}
      </main>
      ${this.renderFoot()}
      <span class="visually-hidden" role="alert">${this.alarm.said}</span>
    `;
  }

  private renderHead() {
    const { isAlarmHeard } = this.session.prefs;
    const count = this.steps.length;
    const done = this.steps.filter(({ isDone }) => isDone).length;
    return html`<header>
      <span class="place">
        ${this.step ? html`Step <b>${this.place}</b> of ${count}` : count > 0 ? 'All done' : ''}
      </span>
      <time class="now">${sayWallClock(this.clock.nowMs, this.session.prefs.units === 'us')}</time>
      <span class="switches">
        <button aria-pressed=${isAlarmHeard} @click=${this.turnSound}>
          Sound ${isAlarmHeard ? 'on' : 'off'}
        </button>
        <button @click=${() => this.put({ isAtBench: false })}>Back to the plan</button>
      </span>
      <progress max=${Math.max(1, count)} .value=${done} aria-label="Steps done"></progress>
      <span class="wake soft">${this.sayWake()}</span>
    </header>`;
  }

  private sayWake(): string {
    const bell =
      this.session.prefs.isAlarmHeard && !isBellAwake() ? 'Touch the page once, then it can ring.' : '';
    const screen = {
      asked: '',
      on: 'The screen stays on.',
      refused: 'The screen may go dark: the machine does not keep it on now.',
      missing: 'The screen may go dark: this browser cannot keep it on.',
    }[this.wake.state];
    return [screen, bell].filter(Boolean).join(' ');
  }

  private renderUndo() {
    if (!this.undo) return nothing;
    return html`<div class="undo">
      <span>${this.undo.said}</span>
      <button @click=${this.takeBack}>Undo</button>
    </div>`;
  }

  private renderTrouble() {
    const { failure, notices } = this.session;
    const problems = notices.filter(({ tone }) => tone === 'problem');
    return html`
      ${
        failure
          ? html`<p class="problem note-text" role="alert">
            The rest could not be worked out: ${failure.message} What stands here is of the plan before.
          </p>`
          : nothing
      }
      ${problems.map(({ text }) => html`<p class="problem note-text" role="alert">${text}</p>`)}
    `;
  }

  private renderNoStep() {
    if (!this.result) return html`<h1 tabindex="-1">The steps come with the first answer.</h1>`;
    return html`
      <h1 tabindex="-1">${this.steps.length > 0 ? 'Every step is done.' : 'There is nothing to do.'}</h1>
      <p class="note-text soft">What was weighed stands in the log, on the stage Sheet.</p>
      <div class="row">
        ${
          this.progress.ticks.length > 0
            ? html`<button class="second" @click=${this.forgetTicks}>Tick the steps anew</button>`
            : nothing
        }
      </div>
    `;
  }

  private renderStep(step: BenchStep) {
    const { result } = this;
    if (!result) return nothing;
    const { task, batch } = step;
    const pieceId = task?.piece ?? batch?.piece ?? null;
    const index = result.pieces.findIndex(({ id }) => id === pieceId);
    const name = result.pieces[index]?.name ?? null;
    return html`
      <div class="body">
        <section class="work" aria-labelledby="what">
          ${
            name
              ? html`<p class="piece"><span class="swatch piece-${index % 6}"></span>${name}${this.sayCoat(step)}</p>`
              : nothing
          }
          <h1 id="what" tabindex="-1" class=${batch ? nothing : 'alone'}>${titleOf(step, name)}</h1>
          ${
            step.isDone
              ? html`<p class="done-mark">Done</p>
                ${
                  step.batch
                    ? nothing
                    : html`<button class="second" @click=${() => this.putBench(untickStep(this.progress, step.id))}>
                      It is not done yet
                    </button>`
                }`
              : nothing
          }
          ${task && !step.isDone ? html`<p class="when note-text soft">${this.sayPlanned(task, result)}</p>` : nothing}
          ${
            batch
              ? this.renderBatch(step, batch)
              : isWait(step) && !step.isDone
                ? this.renderWait(step)
                : nothing
          }
          ${task && !batch && !step.isDone ? this.renderCard(task, result) : nothing}
        </section>
        ${this.renderBeside(step, result)}
      </div>
    `;
  }

  /** Without a first day the plan's clock knows nothing of the log: once something is logged its times mean nothing. */
  private sayPlanned(task: TaskResult, { day }: PlanResult): string {
    const { when, how, bounds } = sayStep(task, day.startDate, day.hands, this.session.prefs.units);
    const isAdrift = day.startDate === null && this.session.plan.log.batches.length > 0;
    if (isAdrift) return `${capital(how)}.`;
    return [`Planned: ${when}`, capital(how), bounds]
      .filter(Boolean)
      .map((words) => `${words}.`)
      .join(' ');
  }

  private renderCard(task: TaskResult, result: PlanResult) {
    const { plan, prefs } = this.session;
    const isAdrift = result.day.startDate === null && plan.log.batches.length > 0;
    const next = stepsAfter(task, result.schedule).map((after) => ({
      what: after.what,
      when: isAdrift ? '' : sayStep(after, result.day.startDate, result.day.hands, prefs.units).begins,
    }));
    return html`<scute-step-card .told=${tellStep(task, result, plan, prefs.units)} .next=${next}></scute-step-card>`;
  }

  private sayCoat({ task, batch }: BenchStep): string {
    const coat = task?.coatNumber ?? batch?.coatNumber ?? null;
    return coat === null ? '' : `, coat ${coat + 1}`;
  }

  private renderWait(step: BenchStep) {
    const timer = this.waitOf(step);
    if (!timer) return nothing;
    return html`<scute-wait-clock
      .timer=${timer}
      .timers=${this.session.prefs.timers}
      until="left. Touch it before you trust the clock."
      start="Start the clock:"
    ></scute-wait-clock>`;
  }

  private renderBatch(step: BenchStep, batch: BatchResult) {
    const logged = this.loggedOf(batch);
    if (logged) return this.renderLogged(batch, logged);
    const { units, timers } = this.session.prefs;
    const begun = this.pourOf(step);
    const lines = this.linesOf(step, batch);
    const timer = workingTimer(this.session.jobKey, batch, this.nameOf(batch.piece));
    const isRunning = timers.some(({ id }) => id === timer.id);
    const isAllIn = lines.every(({ isIn }) => isIn);
    return html`
      ${
        begun && hasPlanMovedOn(batch, begun)
          ? html`<p class="problem note-text">
            The plan has changed since the first part went in. This bucket keeps the weights it was begun with.
          </p>`
          : nothing
      }
      ${
        isRunning
          ? html`<scute-wait-clock
            .timer=${timer}
            .timers=${timers}
            until="left to have it on the wall"
          ></scute-wait-clock>`
          : nothing
      }
      <div ?inert=${this.isWaiting && !begun} class=${this.isWaiting && !begun ? 'soft' : ''}>
        ${this.isWaiting && !begun ? html`<p class="note-text">The weights are being worked out anew\u2026</p>` : nothing}
        <scute-batch-pour .lines=${lines} .units=${units}></scute-batch-pour>
      </div>
      <p class="note-text after">
        ${sayWeighing(sumOf(lines))} g in all. Mix ${sayMinutes(batch.mixMin)}, lay ${sayMinutes(batch.layMin)}; it can be
        worked for ${sayMinutes(batch.workingTimeMin)} from when the parts meet.
      </p>
      <div class="row after">
        ${
          isRunning
            ? nothing
            : html`<button class="second" @click=${() => this.put({ timers: startTimer(timers, timer, Date.now()) })}>
              Parts meet: start ${sayMinutes(timer.minutes)}
            </button>`
        }
        ${
          isAllIn && !this.isAsking
            ? html`<button class="second" @click=${this.ask}>It weighed otherwise</button>`
            : nothing
        }
        ${
          begun
            ? html`<button class="second" @click=${() => this.putBench(emptyBucket(this.progress, step.id))}>
              Begin this bucket anew
            </button>`
            : nothing
        }
      </div>
      ${this.isAsking ? this.renderForm(step, batch, this.figuresOf(step, batch)) : nothing}
    `;
  }

  private renderLogged(batch: BatchResult, logged: LoggedBatch) {
    const { mixedG, leftG, layMin } = logged;
    const more = [
      leftG === null ? '' : `${sayWeighing(leftG)} g left`,
      layMin === null ? '' : `laid in ${sayMinutes(layMin)}`,
    ].filter(Boolean);
    return html`
      <p>On the wall: <b>${sayWeighing(mixedG)} g</b>${more.length > 0 ? `, ${more.join(', ')}` : ''}.</p>
      <div class="row after">
        <button class="second" @click=${this.ask}>Change the weight</button>
        <button class="second" @click=${() => this.unlog(batch)}>It is not on the wall</button>
      </div>
      ${this.isAsking ? this.renderForm(null, batch, logged) : nothing}
    `;
  }

  private renderForm(step: BenchStep | null, batch: BatchResult, from: BatchFigures) {
    return html`<scute-batch-form
      class="note-text"
      label="True weight of ${batch.coat}, batch ${batch.number} of ${batch.of}"
      .from=${from}
      @value=${(e: ValueEvent<BatchFigures | null>) => {
        this.isAsking = false;
        if (!e.value) return;
        if (step) this.finishBatch(step, batch, e.value);
        else this.relog(batch, e.value);
      }}
    ></scute-batch-form>`;
  }

  private renderBeside(step: BenchStep, result: PlanResult) {
    const { units } = this.session.prefs;
    const cautions = step.task && !step.isDone ? cautionsBeside(step.task, result) : [];
    const replan = step.batch && !step.isDone ? this.replanOf(step.batch.piece, result.coatWork) : [];
    if (cautions.length + replan.length === 0) return nothing;
    return html`<aside>
      ${
        replan.length > 0
          ? html`<ul class="replan note-text" aria-label="What the log has changed">
            ${replan.map((line) => html`<li>${line}</li>`)}
          </ul>`
          : nothing
      }
      ${
        cautions.length > 0
          ? html`<ul class="cautions" aria-label="Take care">
            ${cautions.map((caution) => {
              const { head, rest } = splitCaution(readSaid(caution, 'text', units));
              return html`<li><b>${head}</b> <span>${rest}</span></li>`;
            })}
          </ul>`
          : nothing
      }
    </aside>`;
  }

  private renderFoot() {
    const { step, due } = this;
    const place = this.place - 1;
    const before = this.steps[step ? place - 1 : this.steps.length - 1] ?? null;
    const after = step ? (this.steps[place + 1] ?? null) : null;
    const isAway = step !== null && due !== null && due.id !== step.id && (step.isDone || !isWait(step));
    return html`<footer>
      ${
        isAway
          ? html`<button class="due" @click=${() => this.goTo(due.id)}>Due now: ${due.what}</button>`
          : after
            ? html`<p class="then soft">Then: ${after.what}</p>`
            : nothing
      }
      <nav aria-label="Steps">
        <button ?disabled=${!before} aria-label="Back${before ? ` to ${before.what}` : ''}" @click=${() => this.move(-1)}>
          Back
        </button>
        ${
          step
            ? html`<button class="do ${this.isPressing ? 'primary' : ''}" ?disabled=${this.isHeldUp} @click=${this.doIt}>
              ${this.sayDo(step)}
            </button>`
            : html`<button class="do" @click=${() => this.put({ isAtBench: false })}>Back to the plan</button>`
        }
        <button ?disabled=${!after} aria-label="Next${after ? `: ${after.what}` : ''}" @click=${() => this.move(1)}>
          Next
        </button>
      </nav>
    </footer>`;
  }

  /** Nothing is weighed by numbers that are rough or of an earlier plan; a bucket that was begun goes on. */
  private get isHeldUp(): boolean {
    const { step } = this;
    return Boolean(step?.batch && !step.isDone && this.isWaiting && !this.pourOf(step));
  }

  /** The one thing to do now; a wait is none until its clock has run out. */
  private get isPressing(): boolean {
    const { step } = this;
    if (!step || step.isDone) return false;
    const wait = this.waitOf(step);
    if (!wait) return true;
    return this.session.prefs.timers.some(({ id, endMs }) => id === wait.id && endMs <= this.clock.nowMs);
  }

  private sayDo(step: BenchStep): string {
    if (step.isDone) return 'Go on';
    if (step.batch) {
      const next = this.linesOf(step, step.batch).find(({ isIn }) => !isIn);
      if (!next) return 'Batch is on the wall';
      return next.into === 'apart' ? `${capital(next.item)} is ready` : `${capital(next.item)} is in`;
    }
    if (isWait(step)) return step.task?.kind === 'dry' ? 'It is dry' : 'It has set';
    return 'Done';
  }

  private readonly doIt = (): void => {
    const { step } = this;
    if (!step || this.isHeldUp) return;
    if (step.isDone) this.move(1);
    else if (step.batch) {
      const next = this.linesOf(step, step.batch).findIndex(({ isIn }) => !isIn);
      if (next < 0) this.finishBatch(step, step.batch, this.figuresOf(step, step.batch));
      else this.turnPart(next);
    } else this.finishStep(step);
  };

  private finishStep(step: BenchStep): void {
    const { result } = this;
    if (!result) return;
    const { jobKey, plan, prefs } = this.session;
    const nowMs = Date.now();
    const doneIds = new Set(this.steps.filter(({ isDone }) => isDone).map(({ id }) => id));
    const wait = this.waitOf(step);
    const left = wait ? stopTimer(prefs.timers, wait.id) : prefs.timers;
    const timers = startDueWaits(jobKey, left, step.id, doneIds, result, plan.coats, nowMs);
    const ticked = tickStep(this.progress, { id: step.id, what: step.what, atMs: nowMs });
    this.offerUndo(`Done: ${step.what}.`, null);
    this.put({ timers, bench: putProgress(prefs.bench, { ...ticked, at: this.idAfter(step) }) });
  }

  private finishBatch(step: BenchStep, batch: BatchResult, figures: BatchFigures): void {
    const { result } = this;
    if (!result) return;
    const { jobKey, plan, prefs } = this.session;
    const nowMs = Date.now();
    const { piece, coatNumber, number } = batch;
    this.offerUndo(
      `On the wall: ${step.what}, ${sayWeighing(figures.mixedG)} g.`,
      unlogBatch({ piece, coat: coatNumber, number }),
    );
    this.put({
      timers: timersAfterBatch(jobKey, prefs.timers, batch, result, plan.coats, nowMs),
      bench: putProgress(prefs.bench, { ...this.progress, at: this.idAfter(step) }),
    });
    this.edit(logBatch({ piece, coat: coatNumber, number, ...figures, at: writeShopTime(new Date(nowMs)) }));
  }

  private relog(batch: BatchResult, figures: BatchFigures): void {
    const logged = this.loggedOf(batch);
    if (logged) this.edit(logBatch({ ...logged, ...figures }));
  }

  /** The batch is to be laid yet: the wait that its tick began is off as well. */
  private unlog(batch: BatchResult): void {
    const { piece, coatNumber, number } = batch;
    const { jobKey, prefs } = this.session;
    this.undo = null;
    this.put({ timers: stopTimer(prefs.timers, cureTimerId(jobKey, piece, coatNumber)) });
    this.edit(unlogBatch({ piece, coat: coatNumber, number }));
  }

  private readonly onTurnPart = (event: Event): void => this.turnPart((event as TurnPartEvent).index);

  private turnPart(index: number): void {
    const { step } = this;
    if (!step?.batch) return;
    const { batch } = step;
    const { timers } = this.session.prefs;
    const before = this.linesOf(step, batch);
    const progress = turnPart(this.progress, step.id, batch.steps, index);
    const names =
      systemOf(this.session.plan, this.systemIdOf(batch))?.components.map(({ name }) => name) ?? [];
    const meeting = findMeetingPart(
      before.map(({ item }) => item),
      names,
    );
    const isIn = !before[index].isIn;
    const timer = workingTimer(this.session.jobKey, batch, this.nameOf(batch.piece));
    const isRunning = timers.some(({ id }) => id === timer.id);
    // With the part that sets it off in the bucket the clock runs, whoever forgets to start it.
    const next =
      index !== meeting
        ? timers
        : isIn && !isRunning
          ? startTimer(timers, timer, Date.now())
          : isIn
            ? timers
            : stopTimer(timers, timer.id);
    this.undo = null;
    this.put({ timers: next, bench: putProgress(this.session.prefs.bench, progress) });
    announce(`${before[index].item} is ${isIn ? 'in' : 'out again'}.`);
  }

  private offerUndo(said: string, edit: PlanEdit | null): void {
    const { jobKey, prefs } = this.session;
    this.isAsking = false;
    this.undo = {
      said,
      edit,
      jobKey,
      timers: prefs.timers,
      bench: putProgress(prefs.bench, { ...this.progress, at: this.step?.id ?? null }),
    };
  }

  private readonly takeBack = (): void => {
    const { undo } = this;
    if (!undo) return;
    this.undo = null;
    const { jobKey } = this.session;
    this.put({
      timers: carryTimers(undo.timers, undo.jobKey, jobKey, true),
      bench: carryProgress(undo.bench, undo.jobKey, jobKey, true),
    });
    if (undo.edit) this.edit(undo.edit);
    announce('Taken back.');
    this.doButton?.focus();
  };

  private readonly forgetTicks = (): void => {
    this.undo = null;
    this.put({ bench: putProgress(this.session.prefs.bench, { ...this.progress, at: null, ticks: [] }) });
  };

  private readonly ask = (): void => {
    this.isAsking = true;
  };

  private readonly turnSound = (): void => {
    const isAlarmHeard = !this.session.prefs.isAlarmHeard;
    // Heard at once, so that the loudspeaker is known to be on.
    if (isAlarmHeard) ringBell();
    this.put({ isAlarmHeard });
  };

  private readonly onTouch = (): void => {
    if (this.session.prefs.isAlarmHeard && !isBellAwake()) wakeBell();
  };

  private readonly onKey = (event: KeyboardEvent): void => {
    const on = event.composedPath()[0];
    if (event.ctrlKey || event.metaKey || event.altKey || event.repeat) return;
    if (
      on instanceof HTMLInputElement ||
      on instanceof HTMLTextAreaElement ||
      on instanceof HTMLSelectElement
    )
      return;
    if (event.key === 'ArrowRight') this.move(1);
    else if (event.key === 'ArrowLeft') this.move(-1);
    else if ((event.key === ' ' || event.key === 'Enter') && !(on instanceof HTMLButtonElement)) this.doIt();
    else return;
    event.preventDefault();
  };

  private move(by: number): void {
    const place = this.step ? this.place - 1 : this.steps.length;
    const to = this.steps[place + by];
    if (to) this.goTo(to.id);
  }

  private goTo(id: string): void {
    this.isAsking = false;
    this.putBench({ ...this.progress, at: id });
  }

  /** The next step that is not done, from this one on; null: whatever is due then. */
  private idAfter(step: BenchStep): string | null {
    const rest = this.steps.slice(this.steps.indexOf(step) + 1);
    return rest.find(({ isDone }) => !isDone)?.id ?? null;
  }

  /** From 1; 0 when all is done. */
  private get place(): number {
    return this.step ? this.steps.indexOf(this.step) + 1 : 0;
  }

  private get result(): PlanResult | null {
    return this.session.answer?.result ?? null;
  }

  private get isWaiting(): boolean {
    return isStale(this.session) || this.session.answer?.isFinal !== true;
  }

  private get progress(): BenchProgress {
    const { jobKey, prefs } = this.session;
    return progressOf(prefs.bench, jobKey);
  }

  /** The clock of a wait that is still to come to its end; null for any other step. */
  private waitOf(step: BenchStep): StepTimer | null {
    const { result } = this;
    if (!result || !step.task || !isWait(step)) return null;
    return waitTimer(this.session.jobKey, step.task, result, this.session.plan.coats);
  }

  /** The timer that the step itself shows large. */
  private get timerInSight(): string | null {
    const { step } = this;
    if (!step || step.isDone) return null;
    if (step.batch) return workingTimer(this.session.jobKey, step.batch, '').id;
    return this.waitOf(step)?.id ?? null;
  }

  private pourOf(step: BenchStep): Pour | null {
    return this.progress.pours.find(({ batch }) => batch === step.id) ?? null;
  }

  private linesOf(step: BenchStep, batch: BatchResult): readonly PourLine[] {
    const { plan, prefs } = this.session;
    return pourLines(batch, this.pourOf(step), plan, this.systemIdOf(batch), prefs.units);
  }

  private figuresOf(step: BenchStep, batch: BatchResult): BatchFigures {
    const mixedG = sumOf(this.linesOf(step, batch));
    const { jobKey, prefs } = this.session;
    return { mixedG, leftG: null, layMin: layMinOf(jobKey, batch, prefs.timers, Date.now()) };
  }

  private systemIdOf(batch: BatchResult): string | null {
    const work = this.result?.coatWork.find(
      ({ piece, coat }) => piece === batch.piece && coat === batch.coatNumber,
    );
    return work?.systemId ?? null;
  }

  private replanOf(piece: string, coatWork: readonly CoatWork[]): readonly string[] {
    const { units } = this.session.prefs;
    return sayReplan(
      coatWork.filter((coat) => coat.piece === piece),
      this.session.plan.coats,
      (mm) => formatLength(mm, units),
      (g) => formatMass(g, units),
    );
  }

  private loggedOf({ piece, coatNumber, number }: BatchResult): LoggedBatch | null {
    return (
      this.session.plan.log.batches.find(
        (one) => one.piece === piece && one.coat === coatNumber && one.number === number,
      ) ?? null
    );
  }

  private nameOf(id: string): string {
    return this.result?.pieces.find((piece) => piece.id === id)?.name ?? id;
  }

  private putBench(progress: BenchProgress): void {
    this.put({ bench: putProgress(this.session.prefs.bench, progress) });
  }

  private put(change: Partial<ViewPrefs>): void {
    this.dispatchEvent(new PrefsEvent(change));
  }

  private edit(edit: PlanEdit): void {
    this.dispatchEvent(new PlanEditEvent(edit));
  }
}

/** What the step is without the piece, which stands over it. */
function titleOf({ what }: BenchStep, piece: string | null): string {
  const head = `${piece}: `;
  return capital(piece !== null && what.startsWith(head) ? what.slice(head.length) : what);
}

/** To a thousandth of a gram: what floating sums leave over is no weight. */
function sumOf(lines: readonly { readonly massG: number }[]): number {
  return Number(lines.reduce((sum, { massG }) => sum + massG, 0).toFixed(3));
}

/** The present by the machine's own clock: "09:31", "9:31 am". */
function sayWallClock(nowMs: number, isUs: boolean): string {
  return new Date(nowMs).toLocaleTimeString(isUs ? 'en-US' : 'en-GB', { hour: 'numeric', minute: '2-digit' });
}
