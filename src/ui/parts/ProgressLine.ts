import { css, html, LitElement, type PropertyValues } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { SessionState } from '../../session/SessionStore.ts';
import { noteProgress, START_OF_JOB, sayTimeLeft, type TimeLeft } from '../control/timeLeft.ts';
import { CommandEvent } from '../events.ts';
import { sharedStyles } from '../sharedStyles.ts';

/** A job that is over sooner than this is not worth a word, ms. */
const LONG_MS = 700;

/** What is being done, how long it goes on, and a way to stop it. `long` stands on it as soon as the job is no matter of a moment. */
@customElement('scute-progress')
export class ProgressLine extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        display: block;
      }
      .line {
        display: flex;
        align-items: center;
        justify-content: space-between;
        gap: var(--gap-2);
        min-height: var(--target);
        padding-bottom: var(--gap-1);
      }
      .text {
        min-width: 0;
        font-size: var(--size-small);
        line-height: 1.25;
      }
      .left {
        white-space: nowrap;
        color: var(--ink-soft);
      }
      button {
        flex: none;
      }
    `,
  ];

  @property({ attribute: false }) job: SessionState['job'] = null;
  @property({ type: Boolean, reflect: true }) long = false;
  @state() private left: TimeLeft = START_OF_JOB;
  private timer: ReturnType<typeof setTimeout> | undefined;

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    clearTimeout(this.timer);
    this.long = false;
    this.left = START_OF_JOB;
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (!changed.has('job')) return;
    const { job } = this;
    const before = this.left;
    this.left = job ? noteProgress(before, job.fraction, performance.now()) : START_OF_JOB;
    if (this.left.startMs === before.startMs) return;
    clearTimeout(this.timer);
    this.long = false;
    if (job) {
      this.timer = setTimeout(() => {
        this.long = true;
      }, LONG_MS);
    }
  }

  override render() {
    const { job } = this;
    if (!job) return html``;
    const left = sayTimeLeft(this.left) || `${Math.round(job.fraction * 100)}\u00a0%`;
    return html`
      <div class="line">
        <span class="text">${sentence(job.phase)}, <span class="left">${left}</span></span>
        <button @click=${() => this.dispatchEvent(new CommandEvent({ do: 'cancel' }))}>Stop</button>
      </div>
      <progress max="1" .value=${job.fraction} aria-label="Progress" aria-valuetext="${job.phase}, ${left}"></progress>
    `;
  }
}

/** Phases are told in lower case, as parts of a sentence; a file's name at the end keeps its own letters. */
function sentence(phase: string): string {
  return phase.charAt(0).toUpperCase() + phase.slice(1);
}
