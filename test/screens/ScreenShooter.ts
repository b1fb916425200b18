import { join } from 'node:path';
import type { Page } from 'playwright-core';
import type { ScreenState } from './ScreenState.ts';
import { SCREEN_WINDOWS, type ScreenWindow } from './screenWindows.ts';
import { scrollPanel } from './scrollPanel.ts';

/** The view shades the surface in steps after each change; this long it may take until nothing moves any more. */
const SETTLE_MS = 900;
/** For other inks on what stands there already. */
const RECOLOUR_MS = 350;

/** Takes the pictures that are asked for, and keeps account of what could not be reached. */
export class ScreenShooter {
  /** States that could not be reached or left, each with why. */
  readonly missed: string[] = [];

  /** `only` picks by the picture's name, without its ending. */
  constructor(
    private readonly folder: string,
    private readonly only: RegExp | null,
  ) {}

  /** Whether any picture of these states is asked for. */
  wants(subject: string, states: readonly ScreenState[]): boolean {
    return states.some((state) => this.windowsOf(subject, state).length > 0);
  }

  /**
   * Takes pictures of one state after the other. What cannot be reached is noted, `recover` puts the page back to where
   * states are reached from, and the next one has its turn.
   */
  async shoot(
    page: Page,
    subject: string,
    states: readonly ScreenState[],
    recover: (page: Page) => Promise<unknown>,
  ): Promise<void> {
    for (const state of states) {
      const windows = this.windowsOf(subject, state);
      const rounds = state.isPerWindow ? windows.map((window) => [window]) : [windows];
      for (const round of rounds.filter(({ length }) => length > 0)) {
        try {
          await this.shootRound(page, subject, state, round);
        } catch (error) {
          const why = error instanceof Error ? error.message.split('\n')[0] : String(error);
          const where = round.map(({ name }) => name).join(', ');
          this.miss(`${subject}, ${state.name}, ${where}: ${why}`);
          await state.leave?.(page).catch(() => {});
          await recover(page).catch((e) => this.miss(`${subject}: no way back after ${state.name}: ${e}`));
        }
      }
    }
  }

  private async shootRound(
    page: Page,
    subject: string,
    state: ScreenState,
    windows: readonly ScreenWindow[],
  ): Promise<void> {
    const [reachIn] = state.isPerWindow ? windows : SCREEN_WINDOWS;
    await page.setViewportSize({ width: reachIn.width, height: reachIn.height });
    await page.emulateMedia({ colorScheme: reachIn.schemes[0] });
    await state.reach(page);
    for (const { name, width, height, schemes } of windows) {
      if (!state.isPerWindow) await page.setViewportSize({ width, height });
      for (const scheme of schemes) {
        await page.emulateMedia({ colorScheme: scheme });
        if (!state.isFleeting) {
          await scrollPanel(page, state.show ?? 'top');
          if (!state.isPerWindow) await page.mouse.move(1, 1);
          await page.waitForTimeout(scheme === schemes[0] ? SETTLE_MS : RECOLOUR_MS);
        }
        await page.screenshot({ path: join(this.folder, `${stemOf(subject, name, scheme, state)}.png`) });
      }
    }
    if (!state.isPerWindow) await page.setViewportSize(SCREEN_WINDOWS[0]);
    await state.leave?.(page);
    console.log(`${subject}, ${state.name}${state.isPerWindow ? `, ${windows[0].name}` : ''}: done`);
  }

  /** The windows and schemes in which a picture of the state is asked for. */
  private windowsOf(subject: string, state: ScreenState): readonly ScreenWindow[] {
    return SCREEN_WINDOWS.filter(({ name }) => state.inWindows?.includes(name) ?? true)
      .map((window) => ({
        ...window,
        schemes: window.schemes.filter(
          (scheme) =>
            !(scheme === 'dark' && state.isLightOnly) &&
            (this.only?.test(stemOf(subject, window.name, scheme, state)) ?? true),
        ),
      }))
      .filter(({ schemes }) => schemes.length > 0);
  }

  private miss(what: string): void {
    this.missed.push(what);
    console.error(`Not reached: ${what}`);
  }
}

function stemOf(subject: string, window: string, scheme: string, state: ScreenState): string {
  return `${subject}-${window}-${scheme}-${state.name}`;
}
