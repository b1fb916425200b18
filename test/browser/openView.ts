import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { build, type Rollup } from 'vite';
import type { PlanGeometry } from '../../src/jobs/protocol.ts';
import type { MouldView } from '../../src/view/MouldView.ts';

declare global {
  interface Window {
    scuteView: { MouldView: typeof MouldView };
    view: MouldView;
    /** Takes what `crossing` made. */
    show(geometry: string): void;
    /** The picture as it stands, rows from the top, four bytes a pixel, in base 64. */
    pixels(): Promise<{ width: number; height: number; base64: string }>;
  }
}

/** Light paper, graphite, and clay so pale that every stroke stands out. */
const THEME = {
  paper: '#f6f3eb',
  ink: '#22272a',
  inkSoft: '#5a5f63',
  accent: '#a5401f',
  clay: '#e8e0d0',
  pieces: ['#e8e0d0'],
  coats: ['#cccccc'],
  rubber: '#b9b2a6',
};

const SIDE_PX = 320;

/** The view alone, without the page round it, in a square host on an empty page. */
export async function openView(browser: Browser): Promise<Page> {
  const built = (await build({
    configFile: false,
    root: fileURLToPath(new URL('../..', import.meta.url)),
    logLevel: 'warn',
    build: {
      write: false,
      target: 'es2022',
      lib: { entry: 'src/view/MouldView.ts', formats: ['iife'], name: 'scuteView' },
    },
  })) as Rollup.RollupOutput[];
  const page = await browser.newPage({
    viewport: { width: SIDE_PX, height: SIDE_PX },
    reducedMotion: 'reduce',
  });
  await page.setContent('<body style="margin:0"><div id="host"></div></body>');
  await page.addScriptTag({ content: built[0].output[0].code });
  await page.evaluate(
    ({ theme, side }) => {
      const host = document.querySelector<HTMLElement>('#host');
      if (!host) throw new Error('There is no host.');
      host.style.cssText = `position:relative;width:${side}px;height:${side}px`;
      window.view = new window.scuteView.MouldView(host, theme);
      // Arrays cross to the page as lists; here they become what the view takes.
      const revive = (value: unknown): unknown => {
        if (Array.isArray(value)) return value.map(revive);
        if (typeof value !== 'object' || value === null) return value;
        const { float32, uint32, uint8, bytes } = value as Record<string, (number | null)[]>;
        if (float32) return Float32Array.from(float32, (x) => x ?? Infinity);
        if (uint32) return Uint32Array.from(uint32 as number[]);
        if (bytes) return Uint8Array.from(bytes as number[]).buffer;
        if (uint8) return Uint8Array.from(uint8 as number[]);
        return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, revive(one)]));
      };
      window.show = (geometry) => window.view.setAnswer(revive(JSON.parse(geometry)) as PlanGeometry);
      window.pixels = async () => {
        const bitmap = await createImageBitmap(await window.view.snapshot());
        const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
        const context = canvas.getContext('2d');
        if (!context) throw new Error('There is no canvas to read pixels from.');
        context.drawImage(bitmap, 0, 0);
        const { width, height, data } = context.getImageData(0, 0, bitmap.width, bitmap.height);
        let text = '';
        for (const byte of data) text += String.fromCharCode(byte);
        return { width, height, base64: btoa(text) };
      };
    },
    { theme: THEME, side: SIDE_PX },
  );
  return page;
}

/** A geometry for `openView`'s page, as text: typed arrays as lists, infinity as null. */
export function crossing(geometry: PlanGeometry): string {
  return JSON.stringify(geometry, (_, value: unknown) => {
    if (value instanceof Float32Array) return { float32: [...value] };
    if (value instanceof Uint32Array) return { uint32: [...value] };
    if (value instanceof ArrayBuffer) return { bytes: [...new Uint8Array(value)] };
    if (value instanceof Uint8Array) return { uint8: [...value] };
    return value;
  });
}
