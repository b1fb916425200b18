import type { Page } from 'playwright-core';
import type { ScreenState } from './ScreenState.ts';

/** Scrolls the panel of the stage to an end of it, or to the head of an element. */
export async function scrollPanel(page: Page, to: NonNullable<ScreenState['show']>): Promise<void> {
  if (to === 'as it is') return;
  if (typeof to === 'function') {
    await to(page)
      .first()
      .evaluate((element) => element.scrollIntoView({ block: 'start' }));
    return;
  }
  await page.evaluate((end) => {
    const root = document.querySelector('scute-app')?.shadowRoot;
    for (const scroller of root?.querySelectorAll('.panel, scute-shop-sheet') ?? []) {
      scroller.scrollTop = end === 'end' ? scroller.scrollHeight : 0;
    }
  }, to);
}
