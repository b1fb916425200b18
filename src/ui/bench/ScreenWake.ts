import type { ReactiveController, ReactiveControllerHost } from 'lit';

/** 'asked': not known yet. 'on': the screen stays lit. 'refused': the machine does not want to now. 'missing': it cannot. */
export type WakeState = 'asked' | 'on' | 'refused' | 'missing';

/**
 * Keeps the screen lit while its element is on the page. The machine takes the lock away whenever the page is hidden: it is
 * asked for anew as soon as the page is seen again.
 */
export class ScreenWake implements ReactiveController {
  state: WakeState = 'asked';
  private lock: WakeLockSentinel | null = null;
  private isWanted = false;

  constructor(private readonly host: ReactiveControllerHost) {
    host.addController(this);
  }

  hostConnected(): void {
    this.isWanted = true;
    document.addEventListener('visibilitychange', this.ask);
    this.ask();
  }

  hostDisconnected(): void {
    this.isWanted = false;
    document.removeEventListener('visibilitychange', this.ask);
    void this.lock?.release();
    this.lock = null;
  }

  private readonly ask = (): void => {
    if (document.visibilityState !== 'visible' || this.lock) return;
    // Typed as always there; older browsers and pages that came over plain http have none.
    const { wakeLock } = navigator as Partial<Navigator>;
    if (wakeLock) void this.take(wakeLock);
    else this.put('missing');
  };

  private async take(wakeLock: WakeLock): Promise<void> {
    try {
      const lock = await wakeLock.request('screen');
      if (!this.isWanted || this.lock) {
        void lock.release();
        return;
      }
      this.lock = lock;
      lock.addEventListener('release', () => {
        this.lock = null;
        if (this.isWanted) this.put('asked');
      });
      this.put('on');
    } catch {
      // A flat battery, a page just hidden: the machine says no without more.
      this.put('refused');
    }
  }

  private put(state: WakeState): void {
    this.state = state;
    this.host.requestUpdate();
  }
}
