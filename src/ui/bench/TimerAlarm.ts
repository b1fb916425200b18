import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { sayMinutes } from '../../report/sayClock.ts';
import { type Timer, timersDue } from '../../session/timers.ts';
import { ringBell } from '../day/ringBell.ts';

/** Two short shakes, ms on, off, on: felt through an apron pocket. Own choice. */
const SHAKES_MS = [400, 200, 400];
/** What ended longer ago than this before it was seen is said with its age, ms. */
const JUST_NOW_MS = 10_000;

/**
 * Says, rings and shakes when a timer ends; also for those that ended while the machine slept or the page was closed, as
 * soon as it is awake again.
 */
export class TimerAlarm implements ReactiveController {
  /** Of the latest that ended: for the ear. */
  said = '';
  private lastMs = Date.now();
  private timer: ReturnType<typeof setInterval> | null = null;

  constructor(
    private readonly host: ReactiveControllerHost,
    private readonly timersNow: () => readonly Timer[],
    private readonly isHeard: () => boolean,
  ) {
    host.addController(this);
  }

  hostConnected(): void {
    this.lastMs = Date.now();
    // A second is the step of the countdowns; a hidden page is woken less often, or not at all until it is seen again.
    this.timer = setInterval(this.look, 1000);
    document.addEventListener('visibilitychange', this.look);
    const over = this.timersNow().filter(({ endMs }) => endMs <= this.lastMs);
    if (over.length > 0) this.say(over, this.lastMs);
  }

  hostDisconnected(): void {
    if (this.timer !== null) clearInterval(this.timer);
    document.removeEventListener('visibilitychange', this.look);
  }

  private readonly look = (): void => {
    const nowMs = Date.now();
    const due = timersDue(this.timersNow(), this.lastMs, nowMs);
    this.lastMs = nowMs;
    if (due.length === 0) return;
    this.say(due, nowMs);
    if (this.isHeard()) ringBell();
    // Not every machine can; before the page was touched none does.
    const { vibrate } = navigator as Partial<Navigator>;
    if (vibrate && navigator.userActivation?.hasBeenActive) navigator.vibrate(SHAKES_MS);
  };

  private say(over: readonly Timer[], nowMs: number): void {
    this.said = over
      .map(({ label, endMs }) => {
        const agoMs = nowMs - endMs;
        return agoMs < JUST_NOW_MS ? `Over: ${label}.` : `Over, ${sayMinutes(agoMs / 60_000)} ago: ${label}.`;
      })
      .join(' ');
    this.host.requestUpdate();
  }
}
