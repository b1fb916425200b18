import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { sayCountdown, sayMinutes } from '../../report/sayClock.ts';
import { lengthenTimer, stopTimer, type Timer } from '../../session/timers.ts';
import { ClockTick } from '../day/ClockTick.ts';
import { PrefsEvent } from '../events.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { benchStyles } from './benchStyles.ts';

/** One touch more on a timer, minutes. */
const MORE_MIN = 5;

/** Every countdown under way or over, large enough for the bench; the one that the step itself shows is left to the step. */
@customElement('scute-timer-strip')
export class TimerStrip extends LitElement {
  static override styles = [
    sharedStyles,
    benchStyles,
    css`
      li {
        display: grid;
        grid-template-columns: minmax(0, auto) minmax(0, 1fr) auto auto;
        align-items: center;
        gap: 4px 16px;
        padding: 6px 0;
        border-bottom: 1px solid var(--line-soft);
      }
      .left {
        font-weight: bold;
        min-width: 4.2em;
      }
      li.over {
        border-left: 8px solid var(--accent);
        padding-left: 12px;
      }
      li.over .left {
        color: var(--accent);
      }
      button {
        min-height: 56px;
        min-width: 72px;
      }
      @media (max-width: 599px) {
        li {
          grid-template-columns: minmax(0, 1fr) auto auto;
          gap: 4px 8px;
        }
        .label {
          grid-column: 1;
          grid-row: 2;
        }
        button {
          grid-row: 1 / span 2;
        }
      }
    `,
  ];

  @property({ attribute: false }) timers: readonly Timer[] = [];
  /** Id of the timer that is shown elsewhere; null: none. */
  @property() without: string | null = null;

  private readonly clock = new ClockTick(this, () => this.timers.length > 0);

  override render() {
    const shown = this.timers.filter(({ id }) => id !== this.without);
    if (shown.length === 0) return nothing;
    return html`<ul aria-label="Timers">
      ${shown.map((timer) => this.renderTimer(timer))}
    </ul>`;
  }

  private renderTimer({ id, label, endMs }: Timer) {
    const leftMs = endMs - this.clock.nowMs;
    const isOver = leftMs <= 0;
    return html`<li class=${isOver ? 'over' : nothing}>
      <span class="left">${isOver ? `over ${sayMinutes(-leftMs / 60_000)} ago` : sayCountdown(leftMs)}</span>
      <span class="label note-text">${label}</span>
      <button
        aria-label="${MORE_MIN} minutes more for ${label}"
        @click=${() => this.put(lengthenTimer(this.timers, id, MORE_MIN, Date.now()))}
      >
        +${MORE_MIN}
      </button>
      <button
        aria-label="${isOver ? 'Put away' : 'Stop'} the timer ${label}"
        @click=${() => this.put(stopTimer(this.timers, id))}
      >
        ${isOver ? 'Seen' : 'Stop'}
      </button>
    </li>`;
  }

  private put(timers: readonly Timer[]): void {
    this.dispatchEvent(new PrefsEvent({ timers }));
  }
}
