import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { BatchResult, CoatWork } from '../../../core/PlanResult.ts';
import type { LoggedBatch } from '../../../core/plan/PlanDocument.ts';
import { formatLength, formatMass } from '../../../core/units.ts';
import { writeShopTime } from '../../../report/calendar/writeShopTime.ts';
import { readSaid } from '../../../report/readSaid.ts';
import { sayMinutes } from '../../../report/sayClock.ts';
import { closeCoat, logBatch, reopenCoat, unlogBatch } from '../../../session/logActions.ts';
import { isStale, type PlanEdit, type SessionState } from '../../../session/SessionStore.ts';
import { startTimer } from '../../../session/timers.ts';
import { layMinOf } from '../../day/layMinOf.ts';
import { workingTimer } from '../../day/stepTimer.ts';
import { timersAfterBatch } from '../../day/timersAfterBatch.ts';
import { PlanEditEvent, PrefsEvent } from '../../events.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { mixStyles } from '../mix/mixStyles.ts';
import { sayWeighing, sayWeighingBeside } from '../mix/sayWeighing.ts';
import { panelStyles } from '../panelStyles.ts';
import type { BatchFigures } from './BatchForm.ts';
import { sayReplan } from './sayReplan.ts';
import '../mix/NoteItems.ts';
import './BatchForm.ts';

/** Notes that belong to the log and to what is still to be mixed. */
const LOG_NOTES: ReadonlySet<string> = new Set([
  'nothing-left',
  'log-gap',
  'log-stray',
  'shell-short',
  'short-of-stock',
  'no-time-to-lay',
]);

const keyOf = (batch: Pick<BatchResult, 'piece' | 'coatNumber' | 'number'>): string =>
  `${batch.piece}/${batch.coatNumber}/${batch.number}`;

/** Batches in order, to be ticked with their true weight; the next one large, and what the log has changed in words. */
@customElement('scute-batch-log')
export class BatchLog extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    mixStyles,
    css`
      .next {
        border: 2px solid var(--ink);
        background: var(--paper-raised);
        padding: 12px 14px;
        margin-top: 8px;
      }
      .next h4 {
        margin: 0;
      }
      section + section {
        margin-top: 10px;
      }
      details.group {
        border-bottom: 1px solid var(--line);
      }
      li.batch:last-child {
        border-bottom: none;
      }
      .steps {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(100%, 240px), 1fr));
        column-gap: 32px;
      }
      .steps li {
        align-content: start;
        display: grid;
        grid-template-columns: minmax(0, 1fr) auto;
        gap: 0 10px;
        align-items: baseline;
        padding: 6px 0;
        border-bottom: 1px solid var(--line-soft);
      }
      .steps .mass {
        font-size: var(--size-figure);
        font-weight: bold;
        line-height: 1.1;
        white-space: nowrap;
      }
      .steps .mass span {
        font-size: var(--size-body);
        font-weight: normal;
      }
      .steps .say {
        grid-column: 1 / -1;
        font-size: var(--size-small);
        color: var(--ink-soft);
      }
      .coat {
        display: flex;
        align-items: center;
        justify-content: space-between;
        gap: 8px;
        margin-top: 6px;
      }
      .coat .words {
        min-width: 0;
      }
      li.batch {
        border-bottom: 1px solid var(--line-soft);
      }
      li.batch > .line {
        display: grid;
        grid-template-columns: minmax(0, 1fr) auto;
        gap: 8px;
        align-items: center;
      }
      li.batch label.check b {
        white-space: nowrap;
      }
      li.batch.done label {
        color: var(--ink-soft);
      }
      scute-batch-form {
        margin: 4px 0 12px;
      }
      .replan li {
        border-left: 3px solid var(--accent);
        padding: 3px 0 3px 10px;
        margin-top: 8px;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  /** The batch whose weight is being asked for, by key, and where: in the card of the next one or in the list. */
  @state() private asking: { readonly key: string; readonly at: 'card' | 'list' } | null = null;

  private isFocusDue = false;

  override render() {
    const { answer, plan } = this.session;
    if (!answer) return html`<p class="note">The batches come with the first answer.</p>`;
    const { batches, coatWork, workNotes } = answer.result;
    const next = batches.find((batch) => batch.loggedG === null) ?? null;
    const notes = workNotes.filter(({ code }) => LOG_NOTES.has(code));
    const pieces = [...new Set(coatWork.map(({ piece }) => piece))];
    return html`
      <div ?inert=${this.isWaiting}>
        ${
          next
            ? this.renderNext(next)
            : html`<p class="note">
              ${plan.log.batches.length > 0 ? 'All batches are on the wall.' : 'There is nothing to mix.'}
            </p>`
        }
        <scute-notes-of-work .units=${this.session.prefs.units} .notes=${notes} .pieceNames=${new Map(answer.result.pieces.map(({ id, name }) => [id, name]))}></scute-notes-of-work>
        ${pieces.map((piece) => this.renderPiece(piece, piece === (next?.piece ?? null)))}
      </div>
      ${this.isWaiting ? html`<p class="small soft">The rest is being worked out anew\u2026</p>` : nothing}
    `;
  }

  /** Nothing is ticked on numbers that are rough or of an earlier plan. */
  private get isWaiting(): boolean {
    return isStale(this.session) || this.session.answer?.isFinal !== true;
  }

  private renderNext(batch: BatchResult) {
    const { units, timers } = this.session.prefs;
    const timer = workingTimer(this.session.jobKey, batch, this.nameOf(batch.piece));
    const isAsking = this.isAsking(batch, 'card');
    const isRunning = timers.some(({ id }) => id === timer.id);
    return html`<section class="next" aria-label="Next batch">
      <h4>
        Next: ${this.nameOf(batch.piece)}, ${batch.coatNumber + 1} ${batch.coat}, batch ${batch.number} of ${batch.of}
      </h4>
      <ol class="steps">
        ${batch.steps.map(
          (step) => html`<li>
            <span>${step.item}</span>
            <span class="mass">${sayWeighing(step.massG)} <span>g</span></span>
            <span class="say"
              >${[sayWeighingBeside(step.massG, units), step.scale, readSaid(step, 'say', units)].filter(Boolean).join('; ')}</span
            >
          </li>`,
        )}
      </ol>
      <p class="small soft after">
        ${sayWeighing(batch.mixedG)} g in all. Mix ${sayMinutes(batch.mixMin)}, lay ${sayMinutes(batch.layMin)};
        it can be worked for ${sayMinutes(batch.workingTimeMin)}.
      </p>
      <div class="row after">
        <button ?disabled=${isRunning} @click=${() => this.putTimers(startTimer(timers, timer, Date.now()))}>
          ${isRunning ? 'The clock is running' : `Parts meet: start ${sayMinutes(timer.minutes)}`}
        </button>
        ${
          isAsking
            ? nothing
            : html`<button class="primary" @click=${() => this.ask(keyOf(batch), 'card')}>It is on the wall</button>`
        }
      </div>
      ${isAsking ? this.renderForm(batch) : nothing}
    </section>`;
  }

  private renderPiece(piece: string, isAtWork: boolean) {
    const { answer, plan, prefs } = this.session;
    if (!answer) return nothing;
    const { coatWork, pieces } = answer.result;
    const work = coatWork.filter((coat) => coat.piece === piece);
    const index = pieces.findIndex(({ id }) => id === piece);
    const own = answer.result.batches.filter((batch) => batch.piece === piece);
    const done = own.filter(({ loggedG }) => loggedG !== null).length;
    const replan = sayReplan(
      work,
      plan.coats,
      (mm) => formatLength(mm, prefs.units),
      (g) => formatMass(g, prefs.units),
    );
    return html`<section aria-label="Log of ${this.nameOf(piece)}">
      <details class="group" ?open=${isAtWork}>
      <summary>
        <span class="title name"><span class="swatch piece-${index % 6}"></span>${this.nameOf(piece)}</span>
        <span class="said">${done} of ${own.length} done</span>
      </summary>
      ${
        replan.length > 0
          ? html`<ul class="replan" aria-label="What the log changes on ${this.nameOf(piece)}">
            ${replan.map((line) => html`<li>${line}</li>`)}
          </ul>`
          : nothing
      }
      ${work.map((coat) => this.renderCoat(coat))}
      </details>
    </section>`;
  }

  private renderCoat(coat: CoatWork) {
    const { answer, plan, prefs } = this.session;
    const batches = (answer?.result.batches ?? []).filter(
      (batch) => batch.piece === coat.piece && batch.coatNumber === coat.coat,
    );
    const isClosed = plan.log.closed.some((one) => one.piece === coat.piece && one.coat === coat.coat);
    const what = `${coat.name} on ${coat.pieceName}`;
    return html`
      <div class="coat">
        <span class="words">
          ${coat.coat + 1} ${coat.name}, ${formatLength(coat.thicknessMm, prefs.units)}
          <span class="soft small">${this.sayStanding(coat)}</span>
        </span>
        ${
          isClosed
            ? html`<button
                aria-label="Open ${what} again"
                @click=${() => this.edit(reopenCoat(coat.piece, coat.coat))}
              >
                Open again
              </button>`
            : coat.isDone
              ? nothing
              : html`<button
                  class="quiet"
                  aria-label="Done early: ${what}"
                  title="No more of it goes on; the next coat makes up what is missing"
                  @click=${() => this.edit(closeCoat(coat.piece, coat.coat))}
                >
                  Done early
                </button>`
        }
      </div>
      <ul aria-label="Batches of ${what}">
        ${batches.map((batch) => this.renderBatch(batch))}
      </ul>
    `;
  }

  private sayStanding({ isDone, laidG, toLayG }: CoatWork): string {
    const { units } = this.session.prefs;
    if (isDone) return laidG > 0 ? `done, ${formatMass(laidG, units)} on` : 'done';
    return laidG > 0 ? `${formatMass(toLayG, units)} to go` : '';
  }

  private renderBatch(batch: BatchResult) {
    const key = keyOf(batch);
    const logged = this.loggedOf(batch);
    const name = `Batch ${batch.number} of ${batch.of}`;
    const label = this.labelOf(batch);
    const isAsking = this.isAsking(batch, 'list');
    return html`<li class="batch ${logged ? 'done' : ''}">
      <div class="line">
        <label class="check">
          <input
            type="checkbox"
            aria-label=${label}
            .checked=${logged !== null || isAsking}
            @change=${() => (logged ? this.edit(unlogBatch(logged)) : this.ask(isAsking ? null : key, 'list'))}
          />
          <span>
            ${name}: <b>${sayWeighing(logged?.mixedG ?? batch.mixedG)} g</b>
            ${logged ? html`<span class="small">${this.sayLogged(logged)}</span>` : nothing}
          </span>
        </label>
        ${
          logged
            ? html`<button class="quiet" aria-label="Change ${label}" @click=${() => this.ask(key, 'list')}>Change</button>`
            : nothing
        }
      </div>
      ${isAsking ? this.renderForm(batch) : nothing}
    </li>`;
  }

  private renderForm(batch: BatchResult) {
    return html`<scute-batch-form
      label="True weight of ${this.labelOf(batch)}"
      .from=${this.loggedOf(batch) ?? { mixedG: batch.mixedG, leftG: null, layMin: layMinOf(this.session.jobKey, batch, this.session.prefs.timers, Date.now()) }}
      @value=${(e: ValueEvent<BatchFigures | null>) => this.take(batch, e.value)}
    ></scute-batch-form>`;
  }

  private labelOf(batch: BatchResult): string {
    return `Batch ${batch.number} of ${batch.of}, ${batch.coat} on ${this.nameOf(batch.piece)}`;
  }

  private isAsking(batch: BatchResult, at: 'card' | 'list'): boolean {
    return this.asking?.at === at && this.asking.key === keyOf(batch);
  }

  private sayLogged({ leftG, layMin }: LoggedBatch): string {
    return [
      leftG === null ? '' : `${sayWeighing(leftG)} g left`,
      layMin === null ? '' : `laid in ${sayMinutes(layMin)}`,
    ]
      .filter(Boolean)
      .join(', ');
  }

  private loggedOf(batch: BatchResult): LoggedBatch | null {
    return (
      this.session.plan.log.batches.find(
        ({ piece, coat, number }) =>
          piece === batch.piece && coat === batch.coatNumber && number === batch.number,
      ) ?? null
    );
  }

  protected override updated(): void {
    if (!this.isFocusDue || this.isWaiting) return;
    this.isFocusDue = false;
    this.renderRoot.querySelector<HTMLElement>('.next button')?.focus();
  }

  private take(batch: BatchResult, figures: BatchFigures | null): void {
    this.asking = null;
    if (!figures) return;
    const { piece, coatNumber, number } = batch;
    const isFirstTick = this.loggedOf(batch) === null;
    if (isFirstTick) this.turnTimers(batch);
    // The form is gone, and the keys with it: they go on at the next batch once that is known.
    this.isFocusDue = true;
    const at = this.loggedOf(batch)?.at ?? writeShopTime(new Date());
    this.edit(logBatch({ piece, coat: coatNumber, number, ...figures, at }));
  }

  private turnTimers(batch: BatchResult): void {
    const { answer, jobKey, plan, prefs } = this.session;
    if (!answer) return;
    this.putTimers(timersAfterBatch(jobKey, prefs.timers, batch, answer.result, plan.coats, Date.now()));
  }

  private ask(key: string | null, at: 'card' | 'list'): void {
    this.asking = key === null ? null : { key, at };
  }

  private nameOf(id: string): string {
    return this.session.answer?.result.pieces.find((piece) => piece.id === id)?.name ?? id;
  }

  private putTimers(timers: SessionState['prefs']['timers']): void {
    this.dispatchEvent(new PrefsEvent({ timers }));
  }

  private edit(edit: PlanEdit): void {
    this.dispatchEvent(new PlanEditEvent(edit));
  }
}
