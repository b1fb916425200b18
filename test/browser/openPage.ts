import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { expect } from 'vitest';

/** A page with a browser store of its own, and what was seen of it from the first moment on. */
export interface OpenedPage {
  readonly page: Page;
  /** Every address asked for, in order, by the page and its workers. */
  readonly requests: readonly string[];
  /** Console errors, uncaught errors, breaches of the content security policy, anything asked of another address than the page's. Empty when all is well. */
  readonly troubles: readonly string[];
  close(): Promise<void>;
}

/** Wide enough for all of the figure's furniture, no larger: every pixel is painted by the processor here. */
const TEST_WINDOW = { width: 1280, height: 800 };

/**
 * Opens the page as on a first visit. Requests to another origin than the page's are troubles, and refused, so that a page
 * that needs one shows it at once.
 *
 * @param prepare done to the page before it goes to the address
 */
export async function openPage(
  browser: Browser,
  url: string,
  options: BrowserContextOptions = {},
  prepare: (page: Page) => Promise<unknown> = async () => {},
): Promise<OpenedPage> {
  const requests: string[] = [];
  const troubles: string[] = [];
  const { origin } = new URL(url);
  const context = await browser.newContext({
    viewport: TEST_WINDOW,
    reducedMotion: 'reduce',
    // Each page as from the network; the test of the offline start lets them in.
    serviceWorkers: 'block',
    ...options,
  });
  await context.route(
    (address) => isAway(address.href, origin),
    (route) => route.abort(),
  );
  context.on('request', (request) => {
    requests.push(request.url());
    if (isAway(request.url(), origin)) troubles.push(`asked elsewhere: ${request.method()} ${request.url()}`);
  });
  context.on('console', (message) => {
    if (message.type() === 'error') troubles.push(`console: ${message.text()}`);
  });
  context.on('weberror', (error) => troubles.push(`uncaught: ${error.error().message}`));
  await context.addInitScript(() => {
    document.addEventListener('securitypolicyviolation', (event) =>
      console.error(`policy ${event.effectiveDirective} refused ${event.blockedURI}`),
    );
  });
  const page = await context.newPage();
  page.on('websocket', (socket) => troubles.push(`asked elsewhere: socket ${socket.url()}`));
  await prepare(page);
  await page.goto(url);
  return { page, requests, troubles, close: () => context.close() };
}

/** True for an address that is not of the page's origin and not held in the page itself. */
export function isAway(address: string, pageOrigin: string): boolean {
  const { protocol, origin } = new URL(address);
  return protocol !== 'data:' && protocol !== 'blob:' && origin !== pageOrigin;
}

/** Fails the test when the page asked for anything elsewhere or complained of anything. */
export function expectQuiet({ troubles }: OpenedPage): void {
  expect(troubles).toEqual([]);
}
