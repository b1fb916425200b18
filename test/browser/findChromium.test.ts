import { afterEach, expect, test } from 'vitest';
import { findChromium } from './findChromium.ts';

const named = process.env['SCUTE_CHROMIUM'];
afterEach(() => {
  if (named === undefined) delete process.env['SCUTE_CHROMIUM'];
  else process.env['SCUTE_CHROMIUM'] = named;
});

test('a browser that was named and is none is an error in words, and no other is taken in its place', async () => {
  process.env['SCUTE_CHROMIUM'] = '/nowhere/chromium';
  await expect(findChromium()).rejects.toThrow(/SCUTE_CHROMIUM names \/nowhere\/chromium/);
});

test('the browser that was named is the one that is taken', async () => {
  process.env['SCUTE_CHROMIUM'] = process.execPath;
  expect(await findChromium()).toEqual({ path: process.execPath, env: {} });
});
