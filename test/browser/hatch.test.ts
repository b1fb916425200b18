import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { PlanGeometry, TouchPicture, UndercutPicture } from '../../src/jobs/protocol.ts';
import { rubberPicture } from '../fixtures/rubberPicture.ts';
import { octasphere } from '../fixtures/shapes.ts';
import { launchBrowser } from './launchBrowser.ts';
import { crossing, openView } from './openView.ts';

const RADIUS_MM = 50;
/** Strokes are darker than this, washed clay between them lighter: 120 and 200 or so. */
const DARK = 155;

let browser: Browser;
let page: Page;
beforeAll(async () => {
  browser = await launchBrowser();
  page = await openView(browser);
});
afterAll(() => browser?.close());

/** A ball on the board in one piece that pulls up, its lower half locked in the given way by up to 20 mm. */
function ball(kind: number, touch: TouchPicture | null = null): PlanGeometry {
  const mesh = octasphere(RADIUS_MM, 24);
  const positions = Float32Array.from(mesh.positions, (x, i) => (i % 3 === 2 ? x + RADIUS_MM : x));
  const picture = rubberPicture({ positions, indices: mesh.indices });
  const undercut: UndercutPicture = {
    depthMm: Float32Array.from({ length: positions.length / 3 }, (_, v) =>
      Math.max(0, 20 * (1 - positions[3 * v + 2] / RADIUS_MM)),
    ),
    kind: Uint8Array.from({ length: mesh.indices.length / 3 }, (_, t) => {
      const z = [0, 1, 2].reduce((sum, k) => sum + positions[3 * mesh.indices[3 * t + k] + 2], 0);
      return z < 3 * RADIUS_MM ? kind : 0;
    }),
  };
  return {
    rubber: picture,
    pieces: [{ id: 'a', pull: [0, 0, 1], rubber: picture, shell: touch && picture, undercut, touch }],
    lines: [],
    marks: [],
    filler: null,
    fileToBoard: [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0],
  };
}

interface Picture {
  readonly width: number;
  readonly height: number;
  readonly rgba: Uint8Array;
}

async function shoot(): Promise<Picture> {
  // The shade of hollows comes in slices; a picture before it is complete would differ for that alone.
  await page.waitForTimeout(1500);
  const { width, height, base64 } = await page.evaluate(() => window.pixels());
  return { width, height, rgba: Buffer.from(base64, 'base64') };
}

async function showBall(geometry: PlanGeometry): Promise<void> {
  await page.evaluate((crossed) => {
    window.show(crossed);
    window.view.setLockLook({ giveMm: 0, levelsMm: [] });
    window.view.lookFrom('front', false);
  }, crossing(geometry));
}

const setUndercuts = (undercuts: boolean) =>
  page.evaluate((on) => window.view.setShow({ undercuts: on }), undercuts);

const luma = ({ width, rgba }: Picture, x: number, y: number) => {
  const i = 4 * (y * width + x);
  return 0.3 * rgba[i] + 0.6 * rgba[i + 1] + 0.1 * rgba[i + 2];
};

/** Pixels of the upper or lower part of the ball's middle that differ between two pictures, share of that part. */
function changed(a: Picture, b: Picture, part: 'upper' | 'lower'): number {
  let count = 0;
  let all = 0;
  eachPixel(a, part, (x, y) => {
    all++;
    if (Math.abs(luma(a, x, y) - luma(b, x, y)) > 12) count++;
  });
  return count / all;
}

/** The ball stands framed in the middle of the picture; its equator lies at mid height to a few pixels. */
function eachPixel(a: Picture, part: 'upper' | 'lower', visit: (x: number, y: number) => void): void {
  const half = a.height / 2;
  const [y0, y1] =
    part === 'upper'
      ? [half - 0.18 * a.height, half - 0.06 * a.height]
      : [half + 0.06 * a.height, half + 0.18 * a.height];
  for (let y = Math.round(y0); y < y1; y++) {
    for (let x = Math.round(0.4 * a.width); x < 0.6 * a.width; x++) visit(x, y);
  }
}

/** How many dark pixels have another one up right of them, less those that have one down right; over all dark ones. */
function slant(picture: Picture): number {
  let rising = 0;
  let dark = 0;
  const STEP = 6;
  eachPixel(picture, 'lower', (x, y) => {
    if (luma(picture, x, y) > DARK) return;
    dark++;
    if (luma(picture, x + STEP, y - STEP) <= DARK) rising++;
    if (luma(picture, x + STEP, y + STEP) <= DARK) rising--;
  });
  expect(dark).toBeGreaterThan(200);
  return rising / dark;
}

describe('what locks in the picture', () => {
  it('is hatched where it locks, and nowhere else; switched off, the picture is as if it had never been', async () => {
    await showBall(ball(1));
    await setUndercuts(false);
    const bare = await shoot();
    await setUndercuts(true);
    const hatched = await shoot();
    expect(changed(bare, hatched, 'lower')).toBeGreaterThan(0.5);
    expect(changed(bare, hatched, 'upper')).toBe(0);
    await setUndercuts(false);
    const after = await shoot();
    expect(changed(bare, after, 'lower')).toBe(0);
  });

  it('tells kinds by the slant of the strokes, not by colour', async () => {
    await setUndercuts(true);
    await showBall(ball(1));
    expect(slant(await shoot())).toBeGreaterThan(0.3);
    await showBall(ball(2));
    expect(slant(await shoot())).toBeLessThan(-0.3);
  });

  it('marks the part of a shell that is inside the rubber at the present slide, in accent', async () => {
    const count = octasphere(RADIUS_MM, 24).positions.length / 3;
    const touch = { fromMm: new Float32Array(count).fill(5), toMm: new Float32Array(count).fill(15) };
    await showBall(ball(1, touch));
    const rust = async (mm: number) => {
      await page.evaluate((slide) => {
        window.view.setShow({ shells: true });
        window.view.setApart(slide);
      }, mm);
      const picture = await shoot();
      let count = 0;
      eachPixel(picture, 'upper', (x, y) => {
        const i = 4 * (y * picture.width + x);
        // Rust is far redder than any clay or shade here.
        if (picture.rgba[i] - picture.rgba[i + 2] > 70) count++;
      });
      return count;
    };
    expect(await rust(4)).toBe(0);
    expect(await rust(10)).toBeGreaterThan(200);
    expect(await rust(16)).toBe(0);
  });
});
