import { css, html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
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
import { LateElement } from '../../parts/LateElement.ts';
import type { SortCell, SortColumn, SortRow } from '../../parts/SortRow.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { mixStyles } from '../mix/mixStyles.ts';
import { sayWeighing, sayWeighingBeside } from '../mix/sayWeighing.ts';
import { panelStyles } from '../panelStyles.ts';
import type { BatchFigures } from './BatchForm.ts';
import { sayReplan } from './sayReplan.ts';
import '../../parts/SortTable.ts';
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

const COAT_COLUMNS: readonly SortColumn[] = [
  { key: 'coat', title: 'Coat' },
  { key: 'thick', title: 'Thick' },
  { key: 'on', title: 'On the wall' },
  { key: 'toGo', title: 'To go' },
  { key: 'close', title: 'Done early', isBare: true },
];

const BATCH_COLUMNS: readonly SortColumn[] = [
  { key: 'batch', title: 'Batch' },
  { key: 'mixed', title: 'Mixed,\u00a0g' },
  { key: 'change', title: 'Change', isBare: true },
];

const keyOf = (batch: Pick<BatchResult, 'piece' | 'coatNumber' | 'number'>): string =>
  `${batch.piece}/${batch.coatNumber}/${batch.number}`;

/** Batches in order, to be ticked with their true weight; the next one large, and what the log has changed in words. */
@customElement('scute-batch-log')
export class BatchLog extends LateElement {
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
        ${pieces.map((piece) => this.renderPiece(piece, next))}
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

  private renderPiece(piece: string, next: BatchResult | null) {
    const { answer, plan, prefs } = this.session;
    if (!answer) return nothing;
    const { coatWork, pieces } = answer.result;
    const work = coatWork.filter((coat) => coat.piece === piece);
    const index = pieces.findIndex(({ id }) => id === piece);
    const own = answer.result.batches.filter((batch) => batch.piece === piece);
    const done = own.filter(({ loggedG }) => loggedG !== null).length;
    const nextKey = next ? keyOf(next) : null;
    const replan = sayReplan(
      work,
      plan.coats,
      (mm) => formatLength(mm, prefs.units),
      (g) => formatMass(g, prefs.units),
    );
    return html`<section aria-label="Log of ${this.nameOf(piece)}">
      <details class="group" ?open=${piece === next?.piece}>
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
      <scute-table
        isNameAbove
        caption="Coats of ${this.nameOf(piece)}, what is on and what is to go"
        .columns=${COAT_COLUMNS}
        .rows=${work.map((coat) => this.coatRow(coat))}
      ></scute-table>
      <scute-table
        caption="Batches of ${this.nameOf(piece)}, ticked when they are on the wall"
        .columns=${BATCH_COLUMNS}
        .rows=${own.map((batch) => this.batchRow(batch, nextKey))}
      ></scute-table>
      </details>
    </section>`;
  }

  private coatRow(coat: CoatWork): SortRow {
    const { plan, prefs } = this.session;
    const { isDone, laidG, name, thicknessMm, toLayG } = coat;
    const isClosed = plan.log.closed.some((one) => one.piece === coat.piece && one.coat === coat.coat);
    const none: SortCell = { text: '\u2013', value: 0, tone: 'soft' };
    const button = isClosed
      ? { text: 'Open again', edit: reopenCoat(coat.piece, coat.coat), title: '' }
      : {
          text: 'Done early',
          edit: closeCoat(coat.piece, coat.coat),
          title: 'No more of it goes on; the next coat makes up what is missing',
        };
    return {
      key: String(coat.coat),
      swatch: `coat-${coat.coat % 6}`,
      cells: {
        coat: { text: `${coat.coat + 1} ${name}` },
        thick: { text: formatLength(thicknessMm, prefs.units), value: thicknessMm },
        on: laidG > 0 ? { text: formatMass(laidG, prefs.units), value: laidG } : none,
        toGo: isDone ? { text: 'done', value: 0 } : { text: formatMass(toLayG, prefs.units), value: toLayG },
        close: {
          text: '',
          ...(isClosed || !isDone
            ? {
                view: html`<button
                  class="quiet"
                  aria-label=${isClosed ? `Open ${name} on ${coat.pieceName} again` : `Done early: ${name} on ${coat.pieceName}`}
                  title=${button.title || nothing}
                  @click=${() => this.edit(button.edit)}
                >
                  ${button.text}
                </button>`,
              }
            : {}),
        },
      },
    };
  }

  private batchRow(batch: BatchResult, nextKey: string | null): SortRow {
    const key = keyOf(batch);
    const logged = this.loggedOf(batch);
    const label = this.labelOf(batch);
    const isAsking = this.isAsking(batch, 'list');
    const name = `${batch.coatNumber + 1} ${batch.coat}, ${batch.number} of ${batch.of}`;
    const mixedG = logged?.mixedG ?? batch.mixedG;
    return {
      key,
      isMarked: key === nextKey,
      cells: {
        batch: {
          text: logged ? `${name}, on the wall` : name,
          tone: logged ? 'soft' : 'strong',
          view: html`<label class="check">
            <input
              type="checkbox"
              aria-label=${label}
              .checked=${live(logged !== null || isAsking)}
              @change=${() => (logged ? this.edit(unlogBatch(logged)) : this.ask(isAsking ? null : key, 'list'))}
            />
            <span>${name}</span>
          </label>`,
        },
        mixed: {
          text: sayWeighing(mixedG),
          value: mixedG,
          under: logged ? this.sayLogged(logged) : ['planned'],
        },
        change: {
          text: '',
          ...(logged
            ? {
                view: html`<button class="quiet" aria-label="Change ${label}" @click=${() => this.ask(key, 'list')}>Change</button>`,
              }
            : {}),
        },
      },
      ...(isAsking ? { detail: this.renderForm(batch) } : {}),
    };
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

  private sayLogged({ leftG, layMin }: LoggedBatch): string[] {
    return [
      leftG === null ? '' : `${sayWeighing(leftG)} g left`,
      layMin === null ? '' : `laid in ${sayMinutes(layMin)}`,
    ].filter(Boolean);
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
