import { css, html, nothing } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { sayClock, sayDay, sayMinutes } from '../../../report/sayClock.ts';
import { orderOfPieces } from '../../../session/dayActions.ts';
import { isStale, type SessionState } from '../../../session/SessionStore.ts';
import type { DayPicture } from '../../day/DayPicture.ts';
import { StartTimerEvent } from '../../day/StartTimerEvent.ts';
import { LateElement } from '../../parts/LateElement.ts';
import { saveBlob } from '../../saveBlob.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { mixStyles } from '../mix/mixStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import '../../day/DayPicture.ts';
import '../mix/NoteItems.ts';
import './StepTable.ts';

/** Notes that speak of the clock. */
const DAY_NOTES: ReadonlySet<string> = new Set(['window-missed', 'day-too-short']);

/** Width of an hour in the panel and, to see more at once, in the large picture, px. */
const PER_HOUR = 76;
const PER_HOUR_LARGE = 124;

/** The day: what it comes to, its picture, small and large, and its steps to be read. */
@customElement('scute-day')
export class DaySection extends LateElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    mixStyles,
    css`
      dialog {
        border: 2px solid var(--line);
        background: var(--paper);
        color: var(--ink);
        width: min(96vw, 1800px);
        max-height: 94vh;
        padding: 18px 22px;
      }
      dialog::backdrop {
        background: color-mix(in srgb, var(--paper-sunk) 70%, transparent);
      }
      .head {
        display: flex;
        align-items: center;
        justify-content: space-between;
        gap: 12px;
        margin-bottom: 10px;
      }
      .facts {
        margin-bottom: 12px;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  @state() private isLarge = false;
  @query('dialog') private dialog!: HTMLDialogElement;
  @query('scute-day-picture') private picture!: DayPicture;

  override connectedCallback(): void {
    super.connectedCallback();
    this.addEventListener(StartTimerEvent.type, this.closeLarge);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.removeEventListener(StartTimerEvent.type, this.closeLarge);
  }

  override render() {
    const { answer, prefs } = this.session;
    if (!answer) return html`<p class="note">The day comes with the first answer.</p>`;
    const { day, schedule, workNotes } = answer.result;
    const at = (minutes: number) =>
      `${sayDay(minutes, day.startDate, prefs.units)}, ${sayClock(minutes, prefs.units)}`;
    const first = schedule.reduce(
      (least, { startMin }) => Math.min(least, startMin),
      Number.POSITIVE_INFINITY,
    );
    return html`
      <scute-notes-of-work .units=${this.session.prefs.units} .notes=${workNotes.filter(({ code }) => DAY_NOTES.has(code))}></scute-notes-of-work>
      ${
        schedule.length > 0
          ? html`<dl class="facts ${isStale(this.session) ? 'soft' : ''}">
            <div><dt>Begins</dt><dd>${at(first)}</dd></div>
            <div><dt>Over</dt><dd>${at(day.endMin)}</dd></div>
            <div><dt>Hands on</dt><dd>${sayMinutes(day.attendedMin)}</dd></div>
            <div><dt>Waiting</dt><dd>${sayMinutes(day.unattendedMin)}</dd></div>
          </dl>`
          : nothing
      }
      ${this.renderPicture(PER_HOUR)}
      <div class="row after">
        <button ?disabled=${schedule.length === 0} @click=${this.openLarge}>Larger</button>
        <button ?disabled=${schedule.length === 0} @click=${this.savePicture}>Save the picture</button>
      </div>
      <details class="group">
        <summary><span class="title">The steps one by one</span></summary>
        <scute-steps
          .job=${this.session.jobKey}
          .tasks=${schedule}
          .batches=${answer.result.batches}
          .pieces=${this.pieces}
          .startDate=${day.startDate}
          .hands=${day.hands}
          .units=${prefs.units}
        ></scute-steps>
      </details>
      <dialog aria-label="The day, large" @close=${this.onClosed}>
        <div class="head">
          <h2>The day</h2>
          <button @click=${this.closeLarge}>Close</button>
        </div>
        ${this.isLarge ? this.renderPicture(PER_HOUR_LARGE) : nothing}
      </dialog>
    `;
  }

  private renderPicture(perHour: number) {
    const { answer, prefs } = this.session;
    const { day, schedule, batches } = answer?.result ?? { schedule: [], batches: [] };
    return html`<scute-day-picture
      .job=${this.session.jobKey}
      .tasks=${schedule}
      .pieces=${this.pieces}
      .batches=${batches}
      .startDate=${day?.startDate ?? null}
      .hands=${day?.hands ?? 1}
      .units=${prefs.units}
      .perHour=${perHour}
      .nowMin=${minutesSince(day?.startDate ?? null)}
    ></scute-day-picture>`;
  }

  /** In the order in which they are built. */
  private get pieces(): readonly { readonly id: string; readonly label: string }[] {
    const { answer, plan } = this.session;
    const pieces = answer?.result.pieces ?? [];
    const ids = pieces.map(({ id }) => id);
    return orderOfPieces(plan.day, ids).map((id) => ({
      id,
      label: pieces.find((piece) => piece.id === id)?.name || id,
    }));
  }

  private readonly openLarge = (): void => {
    this.isLarge = true;
    void this.updateComplete.then(() => this.dialog.showModal());
  };

  private readonly closeLarge = (): void => {
    if (this.dialog?.open) this.dialog.close();
  };

  private readonly onClosed = (): void => {
    this.isLarge = false;
  };

  private readonly savePicture = (): void => {
    const text = this.picture.pictureFile();
    if (text !== null) saveBlob('day.svg', new Blob([text], { type: 'image/svg+xml' }));
  };
}

/** The present as minutes after midnight of the first day, by this machine's clock; null where no day is fixed. */
function minutesSince(startDate: string | null): number | null {
  if (startDate === null) return null;
  const midnight = new Date(`${startDate}T00:00:00`);
  return (Date.now() - midnight.getTime()) / 60_000;
}
