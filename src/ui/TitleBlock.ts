import { html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { formatLength, formatMass } from '../core/units.ts';
import { deepestLock } from '../session/deepestLock.ts';
import { isStale, type SessionState } from '../session/SessionStore.ts';
import type { Stage } from '../session/ViewPrefs.ts';
import { MediaMatch } from './control/MediaMatch.ts';
import { CommandEvent } from './events.ts';
import { foldIcon } from './icons.ts';
import { readTotals, type Total } from './readTotals.ts';
import { sayShareBound } from './sayAmounts.ts';
import { sharedStyles } from './sharedStyles.ts';
import { titleStyles } from './titleStyles.ts';
import { strip } from './widths.ts';
import './day/NextTimer.ts';
import './parts/ProgressLine.ts';

/** The strip has room for three: what the shell weighs, and what the stage at hand moves most. */
const IN_STRIP: Readonly<Record<Stage, readonly Total['key'][]>> = {
  scan: ['shell-mass', 'heaviest-mass', 'cost'],
  parting: ['shell-mass', 'heaviest-mass', 'deepest-lock'],
  coats: ['shell-mass', 'batches', 'cost'],
  mix: ['shell-mass', 'batches', 'cost'],
  sheet: ['shell-mass', 'batches', 'day'],
};

/** So many letters a cell holds at its own size, and a third of a telephone's width at the strip's. */
const MOST_IN_CELL = 10;
const MOST_IN_STRIP = 8;

/** Names by which each number's cell is found. */
const CELL: Readonly<Record<Total['key'], string>> = {
  'shell-mass': 'shell',
  'heaviest-mass': 'heaviest',
  'deepest-lock': 'locks',
  batches: 'batches',
  day: 'day',
  cost: 'cost',
};

/** The title block along the foot: job, amounts, the bound, what the last change did, and how the work stands. */
@customElement('scute-title-block')
export class TitleBlock extends LitElement {
  static override styles = [sharedStyles, titleStyles];

  @property({ attribute: false }) session!: SessionState;
  /** The strip shows all numbers. */
  @state() private isOpen = false;
  private readonly isStrip = new MediaMatch(this, strip);

  override render() {
    return html`
      ${this.isStrip.matches ? this.renderStrip() : this.renderCells()}
      <div class="visually-hidden" role="status" aria-live="polite">${this.announce()}</div>
    `;
  }

  private renderCells() {
    const { plan, scan } = this.session;
    return html`<div class="cells">
      <div class="cell job">
        <div class="label">Job</div>
        <div class="value">${plan.job.name || 'Unnamed'}</div>
        <div class="under">${plan.job.shop || (scan ? scan.name : '')}</div>
      </div>
      ${readTotals(this.session).map((total) => this.renderTotal(total))}
      <div class="cell status">
        ${this.renderStatus()} ${this.renderTimer()}
      </div>
    </div>`;
  }

  private renderTotal({ key, label, value, change, note }: Total) {
    return html`<div class="cell ${CELL[key]} ${this.doubt}">
      <div class="label">${label}</div>
      <div class="value ${this.sayValue(value).length > MOST_IN_CELL ? 'long' : ''}" data-total=${key}>${this.sayValue(value)}</div>
      <div class="under">
        ${change === '' ? nothing : html`<span class="change">${change}</span>`}
        <span class="besides">${note}</span>
      </div>
    </div>`;
  }

  private renderStrip() {
    const { job, prefs } = this.session;
    const totals = readTotals(this.session);
    const shown = IN_STRIP[prefs.stage].flatMap((key) => totals.filter((total) => total.key === key));
    return html`
      ${job ? html`<div class="hair" .style=${`width: ${100 * job.fraction}%`}></div>` : nothing}
      ${this.isOpen ? html`<div id="all" class="over">${this.renderCells()}</div>` : nothing}
      ${
        job && !this.isOpen
          ? html`<div class="over job-row"><scute-progress .job=${job}></scute-progress></div>`
          : nothing
      }
      ${this.isOpen ? nothing : this.renderTimer()}
      <div class="strip">
        ${shown.map(
          ({ key, label, value, change }) => html`<div class="cell ${this.doubt}">
            <div class="label">${key === 'heaviest-mass' ? 'Heaviest' : label}</div>
            <div class="value ${this.sayValue(value).length > MOST_IN_STRIP ? 'long' : ''}" data-strip=${key}>
              ${this.sayValue(value)}
            </div>
            ${change === '' ? nothing : html`<div class="change">${change}</div>`}
          </div>`,
        )}
        <button
          class="opener"
          aria-expanded=${this.isOpen ? 'true' : 'false'}
          aria-controls="all"
          aria-label="All numbers, ${this.standing}"
          @click=${() => {
            this.isOpen = !this.isOpen;
          }}
          @keydown=${this.onKey}
        >
          ${foldIcon}<span>${this.standing}</span>
        </button>
      </div>
    `;
  }

  private renderTimer() {
    const { timers, isAlarmHeard } = this.session.prefs;
    return html`<scute-next-timer .timers=${timers} .isAlarmHeard=${isAlarmHeard}></scute-next-timer>`;
  }

  private renderStatus() {
    const { job, failure, answer, plan, prefs } = this.session;
    const label = (word: string, tone = '') =>
      html`<div class="label ${tone}">
        <span class="word">${word}</span><span class="jobname">${plan.job.name || 'Unnamed'}</span>
      </div>`;
    if (job) {
      return html`${label(this.standing)}<scute-progress .job=${job}></scute-progress>`;
    }
    if (failure) {
      return html`${label(this.standing, 'accent')}
        <div class="failed">
          <span class="text">${failure.message}</span>
          <button @click=${() => this.dispatchEvent(new CommandEvent({ do: 'plan-again' }))}>Again</button>
        </div>`;
    }
    return html`${label('Standing')}
      <div class="value">${this.standing}</div>
      ${
        answer
          ? html`<div class="under">
              ${
                this.isRough
                  ? 'from the scan\u2019s area and bend'
                  : html`${sayShareBound(answer.result.shell.massErrorG, answer.result.shell.massG)}, steps of
                    ${formatLength(answer.result.resolutionMm, prefs.units)}`
              };
              ${this.sayKept()}
            </div>`
          : nothing
      }`;
  }

  /** How the work stands, in a word or two. */
  private get standing(): string {
    const { job, failure, answer, scan } = this.session;
    if (job) return answer?.isFinal === false ? 'Refining' : 'Working out';
    if (failure) return failure.code === 'stopped' ? 'Stopped' : 'No answer';
    if (!answer) return scan ? 'Waiting' : 'No scan';
    return answer.isFinal ? 'Worked out' : 'Rough';
  }

  /** True for the first guess, which comes before any field was laid. */
  private get isRough(): boolean {
    return isRough(this.session);
  }

  /** Why a number stands in soft ink: it answers an earlier plan, or it is a first guess. */
  private get doubt(): string {
    return isStale(this.session) ? 'stale' : this.isRough ? 'rough' : '';
  }

  private sayValue(value: string): string {
    return this.isRough && /\d/.test(value) ? `~${value}` : value;
  }

  private sayKept(): string {
    const { keeping } = this.session;
    if (keeping === 'untouched') return 'kept once you change it';
    return keeping === 'failed' ? 'not kept in this browser' : 'kept in this browser';
  }

  /** Spoken only when the numbers settle, not at each step of a drag. */
  private announce(): string {
    const { answer, failure, prefs } = this.session;
    if (failure) return failure.message;
    if (!answer?.isFinal || isStale(this.session)) return '';
    const { shell } = answer.result;
    const lock = deepestLock(answer.result);
    const locks = !lock
      ? ''
      : lock.depthMm === 0
        ? '. Nothing locks'
        : `. Locks ${formatLength(lock.depthMm, prefs.units)} at ${lock.piece}`;
    const changes = readTotals(this.session)
      .filter(({ change }) => change !== '')
      .map(({ label, change }) => `${label} ${change}`);
    const moved = changes.length > 0 ? `. Changed: ${changes.join(', ')}` : '';
    return `Shell ${formatMass(shell.massG, prefs.units)}, ${sayShareBound(shell.massErrorG, shell.massG)}${locks}${moved}`;
  }

  private readonly onKey = (event: KeyboardEvent) => {
    if (event.key === 'Escape' && this.isOpen) this.isOpen = false;
  };
}

/** Whether the answer in sight is the first estimate: its bound is wide, and its numbers are told with a tilde. */
function isRough({ answer }: SessionState): boolean {
  return answer?.isRough === true;
}
