import type { StepTimer } from './stepTimer.ts';

/** A countdown is asked for. Bubbles to the panel that keeps the timers. */
export class StartTimerEvent extends Event {
  static readonly type = 'scute-start-timer';
  constructor(readonly timer: StepTimer) {
    super(StartTimerEvent.type, { bubbles: true, composed: true });
  }
}
