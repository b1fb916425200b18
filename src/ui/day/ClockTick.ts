import type { ReactiveController, ReactiveControllerHost } from 'lit';

/** Tells its element the time once a second while there is something to count; the element renders anew at each tick. */
export class ClockTick implements ReactiveController {
  nowMs = Date.now();
  private timer: ReturnType<typeof setInterval> | null = null;

  constructor(
    private readonly host: ReactiveControllerHost,
    private readonly isCounting: () => boolean,
    private readonly onTick: (nowMs: number) => void = () => {},
  ) {
    host.addController(this);
  }

  hostConnected(): void {
    this.nowMs = Date.now();
    this.timer = setInterval(() => this.tick(), 1000);
  }

  hostDisconnected(): void {
    if (this.timer !== null) clearInterval(this.timer);
    this.timer = null;
  }

  /** The element renders for reasons of its own too: what it shows is then of that moment. */
  hostUpdate(): void {
    this.nowMs = Date.now();
  }

  private tick(): void {
    this.nowMs = Date.now();
    this.onTick(this.nowMs);
    if (this.isCounting()) this.host.requestUpdate();
  }
}
