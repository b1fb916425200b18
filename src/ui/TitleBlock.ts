import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { formatLength, formatMass, formatVolume, G_PER_POUND, type UnitSystem } from '../core/units.ts';
import { sayClock, sayDay, sayMinutes } from '../report/sayClock.ts';
import { sayMoney } from '../report/sayMoney.ts';
import { deepestLock } from '../session/deepestLock.ts';
import { elapsedMin, isStale, type SessionState } from '../session/SessionStore.ts';
import { CommandEvent } from './events.ts';
import { sayBound, sayChange, sayShareBound } from './sayAmounts.ts';
import { sayLengthChange } from './sayLengths.ts';
import { sharedStyles } from './sharedStyles.ts';
import './day/NextTimer.ts';

/** Less than this is no change of a price, in the plan's currency: half a cent. */
const LEAST_MONEY = 0.005;

/** The title block along the foot: job, amounts, the bound, what the last change did, and how the work stands. */
@customElement('scute-title-block')
export class TitleBlock extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        display: grid;
        grid-template-columns: minmax(140px, 1.2fr) repeat(6, minmax(104px, 1fr)) minmax(250px, 1.7fr);
        min-height: 118px;
      }
      .cell {
        padding: 10px 14px 8px;
        border-right: 1px solid var(--line);
        min-width: 0;
      }
      .cell:last-child {
        border-right: none;
      }
      .label {
        color: var(--ink-soft);
        font-size: var(--size-small);
      }
      .value {
        font-size: 1.5rem;
        font-weight: bold;
        line-height: 1.15;
        margin: 1px 0 2px;
        white-space: nowrap;
      }
      .job .value {
        font-size: 1.25rem;
        line-height: 1.2;
        white-space: normal;
        overflow-wrap: anywhere;
        display: -webkit-box;
        -webkit-box-orient: vertical;
        -webkit-line-clamp: 2;
        overflow: hidden;
      }
      .under {
        font-size: var(--size-small);
        color: var(--ink-soft);
      }
      .change {
        color: var(--accent);
        font-weight: bold;
        margin-right: 0.5em;
      }
      .heaviest .change {
        margin-left: 0.5em;
      }
      .stale .value,
      .stale .change {
        color: var(--ink-soft);
        font-weight: normal;
      }
      .status {
        display: grid;
        grid-template-columns: minmax(0, 1fr) auto;
        gap: 2px 8px;
        align-items: start;
        align-content: start;
      }
      .standing {
        display: contents;
      }
      .standing > * {
        grid-column: 1;
      }
      .standing > .under,
      .standing > progress {
        grid-column: 1 / -1;
      }
      scute-next-timer {
        grid-column: 2;
        grid-row: 1 / span 2;
        max-width: 116px;
      }
      .status .line {
        display: flex;
        align-items: center;
        justify-content: space-between;
        gap: 8px;
      }
      .status button {
        flex: none;
      }
      .status .text {
        min-width: 0;
        font-size: var(--size-small);
        display: -webkit-box;
        -webkit-box-orient: vertical;
        -webkit-line-clamp: 4;
        overflow: hidden;
      }
      .status .value {
        font-size: 1.25rem;
      }
      progress {
        appearance: none;
        width: 100%;
        height: 8px;
        border: 1px solid var(--line);
        background: none;
      }
      progress::-webkit-progress-bar {
        background: none;
      }
      progress::-webkit-progress-value {
        background: var(--accent);
      }
      progress::-moz-progress-bar {
        background: var(--accent);
      }
      @media (max-width: 1099px) {
        :host {
          grid-template-columns: repeat(12, minmax(0, 1fr));
          min-height: 0;
        }
        .cell {
          padding: 6px 10px;
          grid-column: span 2;
        }
        .value {
          font-size: 1.25rem;
        }
        .job,
        .status {
          grid-column: span 6;
          order: -1;
          border-bottom: 1px solid var(--line-soft);
        }
        .job .value,
        .status .value {
          font-size: 1.125rem;
          -webkit-line-clamp: 1;
        }
        .status,
        .cost {
          border-right: none;
        }
        .status .text {
          -webkit-line-clamp: 2;
        }
      }
      @media (max-width: 599px) {
        .cell {
          grid-column: auto;
        }
        .job {
          display: none;
        }
        .status {
          grid-column: 1 / -1;
        }
        .cell:not(.status) .under {
          display: none;
        }
        .cell:not(.status) {
          padding: 3px 10px;
        }
        :host {
          grid-template-columns: repeat(3, minmax(0, 1fr));
        }
        .standing > .under {
          display: none;
        }
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;

  override render() {
    const { plan, answer, before, prefs, scan } = this.session;
    const { units } = prefs;
    const stale = isStale(this.session) ? 'stale' : '';
    const result = answer?.result ?? null;
    const heaviest = result?.pieces.reduce((a, b) => (b.massG > a.massG ? b : a), result.pieces[0]) ?? null;
    const isComparable = answer?.isFinal === true && !stale && before !== null;
    const change = (now: number, then: number | undefined) => {
      const text = isComparable && then !== undefined ? sayChange(now, then, units) : 'no change';
      return text === 'no change' ? nothing : html`<span class="change">${text}</span>`;
    };
    return html`
      <div class="cell job">
        <div class="label">Job</div>
        <div class="value">${plan.job.name || 'Unnamed'}</div>
        <div class="under">${plan.job.shop || (scan ? scan.name : '')}</div>
      </div>
      <div class="cell ${stale}">
        <div class="label">Shell</div>
        <div class="value" data-total="shell-mass">${result ? sayShortMass(result.shell.massG, units) : '\u2013'}</div>
        <div class="under">
          ${
            result
              ? html`${change(result.shell.massG, before?.shellMassG)}
                ${sayBound(result.shell.massErrorG, result.shell.massG, 'mass', units)}`
              : nothing
          }
        </div>
      </div>
      <div class="cell heaviest ${stale}">
        <div class="label">Heaviest piece</div>
        <div class="value">${heaviest ? sayShortMass(heaviest.massG, units) : '\u2013'}</div>
        <div class="under">
          ${heaviest?.name ?? nothing}
          ${heaviest ? change(heaviest.massG, before?.heaviestMassG) : nothing}
        </div>
      </div>
      <div class="cell locks ${stale}">${this.renderLocks(isComparable)}</div>
      <div class="cell batches ${stale}">${this.renderBatches(isComparable)}</div>
      <div class="cell day ${stale}">${this.renderDay(isComparable)}</div>
      <div class="cell cost ${stale}">${this.renderCost(isComparable)}</div>
      <div class="cell status">
        <div class="standing">${this.renderStatus()}</div>
        <scute-next-timer .timers=${prefs.timers} .isAlarmHeard=${prefs.isAlarmHeard}></scute-next-timer>
      </div>
      <div class="visually-hidden" role="status" aria-live="polite">${this.announce()}</div>
    `;
  }

  /** The deepest lock, what the last change did to it, and the filler: accepted, or still called for. */
  private renderLocks(isComparable: boolean) {
    const { answer, plan, before, prefs } = this.session;
    const { units } = prefs;
    const result = answer?.result ?? null;
    const lock = result ? deepestLock(result) : null;
    const filled = result?.filler ? `${formatMass(result.filler.massG, units)} filled` : '';
    const wanted =
      lock && lock.fillerBeyondGiveG > 0 ? `filler ${formatMass(lock.fillerBeyondGiveG, units)}` : '';
    const isYielding = lock !== null && lock.depthMm > 0 && lock.depthMm <= plan.parting.rubberGiveMm;
    const wasMm = isComparable ? (before?.deepestLockMm ?? null) : null;
    const change = lock && wasMm !== null ? sayLengthChange(lock.depthMm, wasMm, units) : 'no change';
    return html`
      <div class="label">Locks</div>
      <div class="value" data-total="deepest-lock">
        ${lock ? (lock.depthMm === 0 ? 'nowhere' : formatLength(lock.depthMm, units)) : result ? '\u2026' : '\u2013'}
      </div>
      <div class="under">
        ${change === 'no change' ? nothing : html`<span class="change">${change}</span>`}
        ${[wanted || (isYielding ? 'the rubber yields' : ''), filled].filter(Boolean).join(', ')}
      </div>
    `;
  }

  /** How many bucketfuls, what they come to or how many are on the wall. */
  private renderBatches(isComparable: boolean) {
    const { answer, before, prefs } = this.session;
    const result = answer?.result ?? null;
    const count = result?.batches.length ?? 0;
    const done = result?.batches.filter(({ loggedG }) => loggedG !== null).length ?? 0;
    const change = isComparable && before ? count - before.batches : 0;
    return html`
      <div class="label">Batches</div>
      <div class="value" data-total="batches">${result ? count : '\u2013'}</div>
      <div class="under">
        ${changeOf(change, String(Math.abs(change)))}
        ${result ? (done > 0 ? `${done} done` : `${formatVolume(result.shell.volumeMm3, prefs.units)} laid up`) : nothing}
      </div>
    `;
  }

  /** Days on which somebody is at work, and when it is over. */
  private renderDay(isComparable: boolean) {
    const { answer, before, prefs } = this.session;
    const day = answer?.result.day ?? null;
    if (answer === null || day === null || answer.result.schedule.length === 0) {
      return html`<div class="label">Day</div>
        <div class="value" data-total="day">${day ? 'done' : '\u2013'}</div>`;
    }
    const change = isComparable && before ? elapsedMin(answer.result.schedule) - before.elapsedMin : 0;
    const { units } = prefs;
    return html`
      <div class="label">Day</div>
      <div class="value" data-total="day">${day.days} ${day.days === 1 ? 'day' : 'days'}</div>
      <div class="under">
        ${Math.abs(change) < 1 ? nothing : changeOf(change, sayMinutes(Math.abs(change)))}
        over ${sayDay(day.endMin, day.startDate, units)}, ${sayClock(day.endMin, units)}
      </div>
    `;
  }

  /** What is bought for it, and how much of that has no price. */
  private renderCost(isComparable: boolean) {
    const { answer, before } = this.session;
    const cost = answer?.result.cost ?? null;
    const wasCost = isComparable ? (before?.cost ?? null) : null;
    const change = cost?.total != null && wasCost !== null ? cost.total - wasCost : 0;
    const unpriced = cost?.unpriced.length ?? 0;
    return html`
      <div class="label">Cost</div>
      <div class="value" data-total="cost">
        ${cost ? (cost.total === null ? 'no prices' : sayMoney(cost.total, cost.currency)) : '\u2013'}
      </div>
      <div class="under">
        ${Math.abs(change) < LEAST_MONEY ? nothing : changeOf(change, sayMoney(Math.abs(change), ''))}
        ${cost !== null && cost.total !== null && unpriced > 0 ? `${unpriced} without a price` : nothing}
      </div>
    `;
  }

  private renderStatus() {
    const { job, failure, answer, scan } = this.session;
    if (job) {
      const percent = Math.round(job.fraction * 100);
      return html`
        <div class="label">${answer?.isFinal === false ? 'Refining' : 'Working out'}</div>
        <div class="line">
          <span class="text">${job.phase}, ${percent}\u00a0%</span>
          <button class="quiet" @click=${() => this.ask({ do: 'cancel' })}>Stop</button>
        </div>
        <progress max="1" .value=${job.fraction} aria-label="Progress, ${job.phase}"></progress>
      `;
    }
    if (failure) {
      return html`
        <div class="label accent">${failure.code === 'stopped' ? 'Stopped' : 'No answer'}</div>
        <div class="line">
          <span class="text" title=${failure.message}>${failure.message}</span>
          <button @click=${() => this.ask({ do: 'plan-again' })}>Again</button>
        </div>
      `;
    }
    if (!answer) {
      return html`
        <div class="label">Standing</div>
        <div class="value">${scan ? 'Waiting' : 'No scan'}</div>
      `;
    }
    return html`
      <div class="label">Standing</div>
      <div class="value">${answer.isFinal ? 'Worked out' : 'Rough'}</div>
      <div class="under">
        ${sayShareBound(answer.result.shell.massErrorG, answer.result.shell.massG)}, steps of
        ${formatLength(answer.result.resolutionMm, this.session.prefs.units)}; ${this.sayKept()}
      </div>
    `;
  }

  private sayKept(): string {
    const isTroubled = this.session.notices.some((n) => n.topic === 'autosave');
    return isTroubled ? 'not kept in this browser' : 'kept in this browser';
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
    return `Shell ${formatMass(shell.massG, prefs.units)}, ${sayShareBound(shell.massErrorG, shell.massG)}${locks}`;
  }

  private ask(command: CommandEvent['command']): void {
    this.dispatchEvent(new CommandEvent(command));
  }
}

/** What the last change did: "+2"; nothing when it did nothing. */
function changeOf(change: number, size: string) {
  return change === 0 ? nothing : html`<span class="change">${change > 0 ? '+' : '\u2212'}${size}</span>`;
}

/** As heavy as this is written in pounds without ounces. */
const POUNDS_ALONE_G = 1000 * G_PER_POUND;

/** A mass in large figures: "10.4 lb" rather than "10 lb 6.2 oz", which would run over its cell's line. */
function sayShortMass(massG: number, units: UnitSystem): string {
  return formatMass(massG, units, units === 'us' && massG >= G_PER_POUND ? POUNDS_ALONE_G : massG);
}
