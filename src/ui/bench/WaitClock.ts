import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { sayCountdown, sayMinutes } from '../../report/sayClock.ts';
import { lengthenTimer, startTimer, type Timer } from '../../session/timers.ts';
import { ClockTick } from '../day/ClockTick.ts';
import type { StepTimer } from '../day/stepTimer.ts';
import { PrefsEvent } from '../events.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { benchStyles } from './benchStyles.ts';

/** One touch more, minutes: it is still wet. */
const MORE_MIN = 5;

/** One countdown as large as the screen lets it be: how long yet, or for how long it has been over. */
@customElement('scute-wait-clock')
export class WaitClock extends LitElement {
  static override styles = [
    sharedStyles,
    benchStyles,
    css`
      .time {
        font-size: var(--bench-huge);
        font-weight: bold;
        line-height: 1.05;
      }
      .over {
        color: var(--accent);
      }
      progress {
        appearance: none;
        display: block;
        width: 100%;
        height: 14px;
        border: 1px solid var(--line-control);
        background: none;
        margin: 12px 0;
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
      button {
        min-height: var(--bench-target);
        padding: 8px 28px;
      }
    `,
  ];

  @property({ attribute: false }) timer!: StepTimer;
  @property({ attribute: false }) timers: readonly Timer[] = [];
  /** What stands under the time while it runs: "until the next coat". */
  @property() until = '';
  /** What the button says that begins it. */
  @property() start = '';

  private readonly clock = new ClockTick(this, () => this.running !== undefined);

  private get running(): Timer | undefined {
    return this.timers.find(({ id }) => id === this.timer.id);
  }

  override render() {
    const { running, timer } = this;
    if (!running) {
      return html`<button @click=${() => this.put(startTimer(this.timers, timer, Date.now()))}>
        ${this.start} ${sayMinutes(timer.minutes)}
      </button>`;
    }
    const { nowMs } = this.clock;
    const leftMs = running.endMs - nowMs;
    const isOver = leftMs <= 0;
    const share = Math.min(1, (nowMs - running.startMs) / (running.endMs - running.startMs));
    return html`
      <div class="time ${isOver ? 'over' : ''}" role="timer" aria-label=${this.timer.label}>
        ${isOver ? 'over' : sayCountdown(leftMs)}
      </div>
      <p>${isOver ? `It ended ${sayMinutes(-leftMs / 60_000)} ago.` : this.until}</p>
      <progress max="1" .value=${share} aria-label="Time gone, ${this.timer.label}"></progress>
      ${
        isOver || leftMs < MORE_MIN * 60_000
          ? html`<button @click=${() => this.put(lengthenTimer(this.timers, timer.id, MORE_MIN, Date.now()))}>
              ${MORE_MIN} min more
            </button>`
          : nothing
      }
    `;
  }

  private put(timers: readonly Timer[]): void {
    this.dispatchEvent(new PrefsEvent({ timers }));
  }
}
