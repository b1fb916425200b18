import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { sayCountdown, sayMinutes } from '../../report/sayClock.ts';
import { lengthenTimer, stopTimer, type Timer } from '../../session/timers.ts';
import { PrefsEvent } from '../events.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { ClockTick } from './ClockTick.ts';
import { ringBell } from './ringBell.ts';

/** One tap more on a timer, minutes. */
const MORE_MIN = 5;

/** The countdowns under way and those that are over, soonest first; they are kept as instants and outlast a reload. */
@customElement('scute-timers')
export class TimerList extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      li {
        display: grid;
        grid-template-columns: minmax(0, 1fr) auto auto;
        gap: 2px 8px;
        align-items: center;
        border-bottom: 1px solid var(--line-soft);
        padding: 8px 0;
      }
      .left {
        font-size: var(--size-figure);
        font-weight: bold;
        line-height: 1.1;
      }
      .over .left,
      .late .left {
        color: var(--accent);
      }
      .label {
        grid-column: 1;
        font-size: var(--size-small);
      }
      .buttons {
        grid-row: 1 / span 2;
        grid-column: 2 / -1;
        display: flex;
        gap: 6px;
      }
      progress {
        grid-column: 1 / -1;
        appearance: none;
        width: 100%;
        height: 6px;
        border: 1px solid var(--line-control);
        background: none;
      }
      progress::-webkit-progress-bar {
        background: none;
      }
      progress::-webkit-progress-value {
        background: var(--ink-soft);
      }
      progress::-moz-progress-bar {
        background: var(--ink-soft);
      }
    `,
  ];

  @property({ attribute: false }) timers: readonly Timer[] = [];
  @property({ type: Boolean }) isAlarmHeard = false;

  private readonly clock = new ClockTick(this, () => this.timers.length > 0);

  override render() {
    return html`
      ${
        this.timers.length === 0
          ? html`<p class="note">
              None is running. Start one at a batch or at a step of the day; it rings while the page is open.
            </p>`
          : html`<ul aria-label="Timers">
              ${this.timers.map((timer) => this.renderTimer(timer))}
            </ul>`
      }
      <label class="check">
        <input type="checkbox" .checked=${this.isAlarmHeard} @change=${this.turnSound} />
        Ring aloud when one is over
      </label>
    `;
  }

  private renderTimer({ id, label, startMs, endMs }: Timer) {
    const leftMs = endMs - this.clock.nowMs;
    const isOver = leftMs <= 0;
    const share = Math.min(1, (this.clock.nowMs - startMs) / (endMs - startMs));
    return html`<li class=${isOver ? 'over' : nothing}>
      <span class="left">${isOver ? `over, ${sayMinutes(-leftMs / 60_000)} ago` : sayCountdown(leftMs)}</span>
      <span class="label">${label}</span>
      <span class="buttons">
        <button
          aria-label="${MORE_MIN} minutes more for ${label}"
          @click=${() => this.put(lengthenTimer(this.timers, id, MORE_MIN, Date.now()))}
        >
          +${MORE_MIN}
        </button>
        <button aria-label="Stop the timer ${label}" @click=${() => this.put(stopTimer(this.timers, id))}>
          ${isOver ? 'Done' : 'Stop'}
        </button>
      </span>
      <progress max="1" .value=${share} aria-label="Time gone, ${label}"></progress>
    </li>`;
  }

  private put(timers: readonly Timer[]): void {
    this.dispatchEvent(new PrefsEvent({ timers }));
  }

  private turnSound(event: Event): void {
    const isAlarmHeard = (event.target as HTMLInputElement).checked;
    // Heard at once, so that the loudspeaker is known to be on; the tap also lets the browser make sounds later.
    if (isAlarmHeard) ringBell();
    this.dispatchEvent(new PrefsEvent({ isAlarmHeard }));
  }
}
