import type { Locator, Page } from 'playwright-core';

/** A state of the page that a picture is taken of. */
export interface ScreenState {
  /** Part of the picture's file name. */
  readonly name: string;
  /** Leads there from where `leave` of the state before left the page. Throws when there is no way. */
  readonly reach: (page: Page) => Promise<unknown>;
  /** Takes back what `reach` did. */
  readonly leave?: (page: Page) => Promise<unknown>;
  /** What of the panel is to be in sight: an end of it, or the element whose head is scrolled to. The head when absent. */
  readonly show?: 'top' | 'end' | 'as it is' | ((page: Page) => Locator);
  /** Reached anew in each window: a leaf that hangs at its button, or what lasts only for a moment. */
  readonly isPerWindow?: boolean;
  /** Lasts only for a moment: shot at once. */
  readonly isFleeting?: boolean;
  /** Pictured in light only: in dark it would tell nothing that the state's stage does not tell. */
  readonly isLightOnly?: boolean;
  /** Windows in which there is such a state. All when absent. */
  readonly inWindows?: readonly string[];
}
