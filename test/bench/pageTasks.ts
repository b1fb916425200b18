import type { Page } from 'playwright-core';

declare global {
  interface Window {
    scuteTasks: Task[];
    scuteWaits: Task[];
    scuteLateMs: number[];
  }
}

interface Task {
  readonly startMs: number;
  readonly tookMs: number;
}

/** How long the page's own thread was taken at a stretch. */
export interface LongestTask {
  /** 0: never longer than 50 ms. */
  readonly tookMs: number;
  /** Less what of it went by waiting for the graphics, which are a processor's work on a machine without a graphics card. */
  readonly ownMs: number;
}

/**
 * Begins to watch a page's thread; once, before the page is opened. Tasks over 50 ms are told of by the browser itself. Waiting
 * for the graphics: whatever passes within a call of WebGL, or while the canvas takes another size.
 */
export async function watchTasks(page: Page): Promise<void> {
  // The bench's compiler names functions by a helper of its own, which a page does not have.
  await page.addInitScript('globalThis.__name ??= (named) => named;');
  await page.addInitScript(() => {
    window.scuteTasks = [];
    window.scuteWaits = [];
    window.scuteLateMs = [];
    new PerformanceObserver((list) => {
      for (const { startTime, duration } of list.getEntries()) {
        window.scuteTasks.push({ startMs: startTime, tookMs: duration });
      }
    }).observe({ type: 'longtask', buffered: true });
    new PerformanceObserver((list) => {
      for (const { name, duration } of list.getEntries()) {
        if (name === 'keydown') window.scuteLateMs.push(duration);
      }
    }).observe({ type: 'event', durationThreshold: 16 } as PerformanceObserverInit);

    const timed = <T>(call: () => T): T => {
      const startMs = performance.now();
      const value = call();
      const tookMs = performance.now() - startMs;
      if (tookMs > 0.5) window.scuteWaits.push({ startMs, tookMs });
      return value;
    };
    const watched = (target: object, key: string): void => {
      const descriptor = Object.getOwnPropertyDescriptor(target, key);
      if (descriptor === undefined) return;
      const { value, set } = descriptor;
      if (typeof value === 'function') {
        Object.defineProperty(target, key, {
          ...descriptor,
          value(...args: unknown[]) {
            return timed(() => value.apply(this, args));
          },
        });
      } else if (set) {
        Object.defineProperty(target, key, {
          ...descriptor,
          set(to: unknown) {
            timed(() => set.call(this, to));
          },
        });
      }
    };
    const gl = WebGL2RenderingContext.prototype;
    for (const key of Object.getOwnPropertyNames(gl)) watched(gl, key);
    watched(HTMLCanvasElement.prototype, 'width');
    watched(HTMLCanvasElement.prototype, 'height');
    watched(HTMLCanvasElement.prototype, 'getContext');
  });
}

/** The longest since it was asked last. */
export async function longestTask(page: Page): Promise<LongestTask> {
  return page.evaluate(() => {
    const waits = window.scuteWaits.splice(0);
    let longest = { tookMs: 0, ownMs: 0 };
    for (const { startMs, tookMs } of window.scuteTasks.splice(0)) {
      const waitedMs = waits
        .filter((wait) => wait.startMs >= startMs && wait.startMs < startMs + tookMs)
        .reduce((sum, wait) => sum + wait.tookMs, 0);
      longest = {
        tookMs: Math.max(longest.tookMs, tookMs),
        ownMs: Math.max(longest.ownMs, tookMs - waitedMs),
      };
    }
    return longest;
  });
}

/** How late the page painted after each key pressed since it was asked last, ms; those painted within 16 ms are not told of. */
export async function lateKeysMs(page: Page): Promise<readonly number[]> {
  return page.evaluate(() => window.scuteLateMs.splice(0));
}
