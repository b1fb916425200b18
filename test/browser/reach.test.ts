import type { Browser, CDPSession, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, inject, test } from 'vitest';
import { DOME_RADIUS_MM, domeScan } from './domeScan.ts';
import { dropFile } from './dropFile.ts';
import { launchBrowser } from './launchBrowser.ts';
import { moveFingers, type Place, straight } from './moveFingers.ts';
import { openDome } from './openDome.ts';
import { expectQuiet, type OpenedPage } from './openPage.ts';
import { openStage, readPieces } from './readFigures.ts';
import { atRest, readLook, readScale } from './readLook.ts';
import { waitForAnswer } from './waitForAnswer.ts';
import { walkFocus } from './walkFocus.ts';

/** Wide enough that all that belongs to no stage stands in the margin, and not behind a button. */
const LAPTOP = { width: 1280, height: 800 };
/** So low and narrow that the page itself scrolls, figure and all. */
const SMALL = { width: 420, height: 540 };
/** All that is waited for comes sooner on any machine; a plan of the half sphere takes longest. */
const SOON = { timeout: 60_000 };
/** A glide is over in a third of this where frames come as they should. */
const GLIDE_MS = 1500;
const NOTHING_WRONG = { missed: [], unmarked: [], unseen: [], unnamed: [] };

let browser: Browser;
let opened: OpenedPage;
let cdp: CDPSession;
beforeAll(async () => {
  browser = await launchBrowser();
  opened = await openDome(browser, inject('pageUrl'), { viewport: LAPTOP, hasTouch: true });
  cdp = await opened.page.context().newCDPSession(opened.page);
});
afterEach(() => expectQuiet(opened));
afterAll(() => browser?.close());

test('Tab comes to every control in sight, and shows where it is: stages, bench, drawer and dialogs', async () => {
  const { page } = opened;
  const seen: Record<string, number> = {};
  const walk = async (where: string): Promise<void> => {
    const { reached, ...wrong } = await walkFocus(page);
    expect({ where, ...wrong }).toEqual({ where, ...NOTHING_WRONG });
    seen[where] = reached.length;
  };
  for (const stage of ['Scan', 'Parting', 'Coats', 'Mix', 'Sheet'] as const) {
    await openStage(page, stage);
    await page.getByRole('heading', { level: 2, name: stage, exact: true }).waitFor();
    await walk(stage);
    // Five stages, and a panel that has something to decide.
    expect(seen[stage]).toBeGreaterThan(20);
  }
  await pressOn(page, 'Larger');
  await page.getByRole('dialog').waitFor();
  await walk('The day, larger');
  await page.keyboard.press('Escape');
  await expectKeysAt(page, 'Larger');
  await pressOn(page, 'Plans');
  await page.getByRole('list', { name: 'Kept plans' }).waitFor();
  await walk('Drawer');
  await page.keyboard.press('Escape');
  await expectKeysAt(page, 'Plans');
  await pressOn(page, 'At the bench');
  await page.locator('scute-bench').getByRole('heading', { level: 1 }).waitFor();
  await expect.poll(() => whoHasKeys(page), SOON).not.toBe('');
  await walk('Bench');
  await pressOn(page, 'Back to the plan');
  await expectKeysAt(page, 'At the bench');
});

test('the keys go to the figure with a tool, and come back to where it was taken; nothing put away takes them along', async () => {
  const { page } = opened;
  await openStage(page, 'Parting');
  await pressOn(page, 'Draw a line');
  await expectKeysAt(page, /^The mould in 3D/);
  // Near the board in front, over the crown, near the board behind: the line is drawn on to the rim.
  const keys = [
    '1',
    'Shift+ArrowUp',
    'Shift+ArrowUp',
    ' ',
    '5',
    ' ',
    '2',
    'Shift+ArrowUp',
    'Shift+ArrowUp',
    ' ',
  ];
  for (const key of keys) await page.keyboard.press(key);
  await expect.poll(() => page.getByRole('button', { name: 'Take the line' }).isEnabled(), SOON).toBe(true);
  await page.keyboard.press('Enter');
  await expectKeysAt(page, 'Draw a line');
  await page.getByRole('button', { name: /^Line 1, yours/ }).waitFor();
  await waitForAnswer(page);

  const areas = async () => (await readPieces(page)).map(({ area }) => area.value);
  const [before] = await areas();
  await pressOn(page, 'Move points');
  await expectKeysAt(page, /^The mould in 3D/);
  const said = (words: string) =>
    page.getByRole('status').filter({ hasText: words }).waitFor({ state: 'attached' });
  await page.keyboard.press('n');
  await said('Point 1 of 3, line 1');
  await page.keyboard.press('Shift+N');
  await said('Point 3 of 3, line 1');
  await page.keyboard.press('Shift+N');
  await said('Point 2 of 3, line 1');
  // The crown's point goes sideways, by half the radius or so: one piece gains what the other loses.
  for (const key of ['5', 'Shift+ArrowLeft', 'Shift+ArrowLeft']) await page.keyboard.press(key);
  await page.keyboard.press('m');
  await expect.poll(async () => Math.abs((await areas())[0] / before - 1), SOON).toBeGreaterThan(0.05);
  await page.keyboard.press('Escape');
  await expectKeysAt(page, 'Move points');
  await waitForAnswer(page);

  await openStage(page, 'Scan');
  await pressOn(page, 'Paint an area');
  await expectKeysAt(page, /^The mould in 3D/);
  await page.keyboard.press('1');
  await page.keyboard.press(' ');
  await page.getByText('one dab').waitFor();
  await page.keyboard.press('Escape');
  await expectKeysAt(page, 'Paint an area');
  await pressOn(page, /^Remove /);
  await page.getByText('one dab').waitFor({ state: 'detached' });
  await expectKeys(page);
  await waitForAnswer(page);

  await openStage(page, 'Coats');
  for (const hint of [1, 2, 3]) {
    await page.getByRole('region', { name: `Hint ${hint} of 3` }).waitFor();
    await pressOn(page, 'Got it');
  }
  await page.getByRole('region', { name: /^Hint/ }).waitFor({ state: 'detached' });
  await expectKeys(page);

  await dropFile(page, 'torn.stl', domeScan().subarray(0, 200));
  await pressOn(page, 'Put this notice away');
  await page.getByRole('button', { name: 'Put this notice away' }).waitFor({ state: 'detached' });
  await expectKeys(page);
});

test('touch: one finger turns, two move and pinch, taps draw a line, a finger paints, and the page stays where it is', async () => {
  const { page } = opened;
  await openStage(page, 'Scan');
  await lookFrom(page, '1', 'the front');
  const middle = await middleOfFigure(page);
  const by = (dx: number, dy: number): Place => ({ x: middle.x + dx, y: middle.y + dy });

  const still = await atRest(page, readLook);
  // A drag of 500 px turns the mould half round, so this one by 45 degrees, to the right: its left comes to the front.
  await moveFingers(cdp, [straight(middle, by(125, 0))]);
  await expect.poll(async () => (await readLook(page)).from, SOON).toBe('the left front');
  expect((await atRest(page, readLook)).mmPerPixel).toBeCloseTo(still.mmPerPixel, 3);

  await lookFrom(page, '1', 'the front');
  await moveFingers(cdp, [straight(by(-40, 0), by(10, 30)), straight(by(40, 0), by(90, 30))]);
  await expect.poll(async () => (await readLook(page)).crown.x - still.crown.x, SOON).toBeCloseTo(50, 0);
  const moved = await atRest(page, readLook);
  expect(moved.crown.y - still.crown.y).toBeCloseTo(30, 0);
  expect(moved.mmPerPixel).toBeCloseTo(still.mmPerPixel, 3);
  expect(moved.from).toBe('the front');
  await moveFingers(cdp, [straight(by(-40, 0), by(-60, 0)), straight(by(40, 0), by(60, 0))]);
  await expect
    .poll(async () => still.mmPerPixel / (await readLook(page)).mmPerPixel, SOON)
    .toBeCloseTo(1.5, 1);

  await pressOn(page, 'Paint an area');
  await lookFrom(page, '1', 'the front');
  await moveFingers(cdp, [straight(by(-60, 20), by(60, 20))]);
  const dabs = page.getByText(/^\d+ dabs$/);
  await dabs.waitFor();
  const painted = await dabs.textContent();
  await moveFingers(cdp, [straight(by(-40, 0), by(-80, 0)), straight(by(40, 0), by(80, 0))]);
  await expect.poll(async () => still.mmPerPixel / (await readLook(page)).mmPerPixel, SOON).toBeCloseTo(2, 1);
  expect(await dabs.textContent()).toBe(painted);
  await page.getByRole('button', { name: 'Done' }).tap();
  await page.getByRole('button', { name: /^Remove / }).tap();
  await waitForAnswer(page);

  await openStage(page, 'Parting');
  await page.getByRole('button', { name: 'Back to the suggested line' }).tap();
  await page.getByText('Line 1, suggested').waitFor();
  await waitForAnswer(page);
  await lookFrom(page, '5', 'above');
  await page.getByRole('button', { name: 'Draw a line' }).tap();
  const radiusPx = DOME_RADIUS_MM / (await atRest(page, readScale));
  const top = await middleOfFigure(page);
  for (const along of [0.84, 0, -0.84]) {
    await moveFingers(cdp, [[{ x: top.x + 0.3 * radiusPx, y: top.y + along * radiusPx }]]);
  }
  await page.getByRole('button', { name: 'Take the line' }).tap();
  await page.getByText('Line 1, yours').waitFor();
  await waitForAnswer(page);

  await page.setViewportSize(SMALL);
  await openStage(page, 'Scan');
  await lookFrom(page, '1', 'the front');
  const at = await middleOfFigure(page);
  const low = await page.evaluate(() => document.documentElement.scrollHeight - innerHeight);
  expect(low, 'the page is longer than its window').toBeGreaterThan(100);
  await moveFingers(cdp, [straight(at, { x: at.x, y: at.y - 80 })]);
  await moveFingers(cdp, [
    straight({ x: at.x - 30, y: at.y }, { x: at.x - 60, y: at.y - 60 }),
    straight({ x: at.x + 30, y: at.y }, { x: at.x + 60, y: at.y - 60 }),
  ]);
  expect(await page.evaluate(() => [scrollY, visualViewport?.scale])).toEqual([0, 1]);
  // The same stroke on the stages above, where it is to scroll, does.
  await moveFingers(cdp, [straight({ x: at.x, y: SMALL.height - 20 }, { x: at.x, y: SMALL.height - 220 })]);
  await expect.poll(() => page.evaluate(() => scrollY), SOON).toBeGreaterThan(50);
  await page.setViewportSize(LAPTOP);
});

test('where less motion is asked for nothing glides', async () => {
  const { page } = opened;
  for (const stage of ['Scan', 'Parting', 'Coats', 'Mix', 'Sheet'] as const) {
    await openStage(page, stage);
    await page.getByRole('heading', { level: 2, name: stage, exact: true }).waitFor();
    expect(await page.evaluate(findMoving)).toEqual([]);
  }
  await openStage(page, 'Scan');
  await lookFrom(page, '1', 'the front');
  expect(await countLooks(page, '5', 'above')).toBe(1);
  await page.emulateMedia({ reducedMotion: 'no-preference' });
  // A glide's first frame goes a small part of the way, however slow the machine is.
  expect(await countLooks(page, '1', 'the front')).toBeGreaterThan(1);
  await page.emulateMedia({ reducedMotion: 'reduce' });
});

/** Gives a button the keys and presses Enter. */
async function pressOn(page: Page, name: string | RegExp): Promise<void> {
  await page.getByRole('button', { name, exact: true }).first().focus();
  await page.keyboard.press('Enter');
}

/** Name of what has the keys; '' when nothing has them. */
function whoHasKeys(page: Page): Promise<string> {
  return page.evaluate(() => {
    let at = document.activeElement;
    while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
    if (!at || at === document.body || !at.checkVisibility() || at.matches(':disabled')) return '';
    const label = at.getAttribute('aria-label') ?? at.textContent?.trim();
    return (label || at.localName).replace(/\s+/g, ' ');
  });
}

async function expectKeysAt(page: Page, name: string | RegExp): Promise<void> {
  const pattern = typeof name === 'string' ? new RegExp(`^${name}$`) : name;
  await expect.poll(() => whoHasKeys(page), SOON).toMatch(pattern);
}

async function expectKeys(page: Page): Promise<void> {
  await expect.poll(() => whoHasKeys(page), SOON).not.toBe('');
}

async function middleOfFigure(page: Page): Promise<Place> {
  const box = await page.getByRole('application').boundingBox();
  if (box === null) throw new Error('The figure is not in sight.');
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

async function lookFrom(page: Page, key: string, from: string): Promise<void> {
  await page.keyboard.press(key);
  await page.locator('figcaption').getByText(`seen from ${from}`).waitFor();
}

/** How many looks the drawing over the mould goes through, by the scale that it gives, until a view asked for by key stands. */
async function countLooks(page: Page, key: string, from: string): Promise<number> {
  await page.locator('scute-figure-overlay').evaluate((overlay) => {
    const read = (): string =>
      [...(overlay.shadowRoot?.querySelectorAll('path.thin') ?? [])].at(-1)?.getAttribute('d') ?? '';
    const looks: string[] = [read()];
    const watch = new MutationObserver(() => {
      if (read() !== looks.at(-1)) looks.push(read());
    });
    watch.observe(overlay.shadowRoot as ShadowRoot, { subtree: true, childList: true, attributes: true });
    Object.assign(window, { looksSeen: looks });
  });
  await lookFrom(page, key, from);
  await page.waitForTimeout(GLIDE_MS);
  return page.evaluate(() => (window as unknown as { looksSeen: string[] }).looksSeen.length - 1);
}

/** Runs in the page: all that moves or would move by style for longer than a millisecond, through all shadow roots. */
function findMoving(): string[] {
  const found: string[] = [];
  const isLong = (seconds: string): boolean =>
    seconds.split(',').some((one) => Number.parseFloat(one) > 0.001);
  const look = (root: Document | ShadowRoot): void => {
    for (const { effect, playState } of root.getAnimations()) {
      const { duration } = effect?.getComputedTiming() ?? {};
      const target = (effect as KeyframeEffect | null)?.target;
      if (Number(duration) > 1) found.push(`${target?.localName}, ${playState}, ${duration} ms`);
    }
    for (const element of root.querySelectorAll('*')) {
      const { transitionDuration, animationDuration, animationName, scrollBehavior } =
        getComputedStyle(element);
      const moves = isLong(transitionDuration) || (animationName !== 'none' && isLong(animationDuration));
      if (moves || scrollBehavior === 'smooth') found.push(element.localName);
      if (element.shadowRoot) look(element.shadowRoot);
    }
  };
  look(document);
  return found;
}
