import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { sayCountdown } from '../../report/sayClock.ts';
import { type Timer, timersDue } from '../../session/timers.ts';
import { PrefsEvent } from '../events.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { ClockTick } from './ClockTick.ts';
import { ringBell } from './ringBell.ts';

/** The countdown that ends next, in sight on every stage; when one is over it is said, and rung where that is wished. */
@customElement('scute-next-timer')
export class NextTimer extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        display: block;
      }
      button {
        width: 100%;
        display: flex;
        align-items: center;
        gap: var(--gap-2);
        text-align: left;
        padding: 3px 8px;
        line-height: 1.2;
      }
      .left {
        flex: none;
        font-weight: bold;
      }
      .label {
        flex: 1;
        font-size: var(--size-small);
        min-width: 0;
        overflow-wrap: anywhere;
      }
      .over {
        border: 2px solid var(--accent);
        color: var(--accent);
      }
    `,
  ];

  @property({ attribute: false }) timers: readonly Timer[] = [];
  @property({ type: Boolean }) isAlarmHeard = false;

  private said = '';
  private lastTickMs = Date.now();
  private readonly clock = new ClockTick(
    this,
    () => this.timers.length > 0,
    (nowMs) => this.tick(nowMs),
  );

  override render() {
    const { nowMs } = this.clock;
    // One that is over stays in front until it is put away.
    const over = this.timers.filter(({ endMs }) => endMs <= nowMs);
    const next = over.at(-1) ?? this.timers[0];
    return html`
      ${
        next
          ? html`<button
              class=${over.length > 0 ? 'over' : ''}
              title=${next.label}
              aria-label="Timers: ${next.label}, ${over.length > 0 ? 'over' : `${sayCountdown(next.endMs - nowMs)} left`}"
              @click=${() => this.dispatchEvent(new PrefsEvent({ stage: 'sheet' }))}
            >
              <span class="left">${over.length > 0 ? 'over' : sayCountdown(next.endMs - nowMs)}</span>
              <span class="label">${next.label}</span>
            </button>`
          : nothing
      }
      <span class="visually-hidden" role="alert">${this.timers.length > 0 ? this.said : ''}</span>
    `;
  }

  private tick(nowMs: number): void {
    const due = timersDue(this.timers, this.lastTickMs, nowMs);
    this.lastTickMs = nowMs;
    if (due.length === 0) return;
    this.said = `Over: ${due.map(({ label }) => label).join('; ')}`;
    if (this.isAlarmHeard) ringBell();
  }
}
