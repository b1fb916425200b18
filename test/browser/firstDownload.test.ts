import { expect, inject, test } from 'vitest';
import { firstDownload } from './firstDownload.ts';

/** What a first visit may cost before the worker's kernels, bytes gzipped: a promise of the page's. */
const MOST_BYTES = 350_000;

test('the first download stays small, and the kernels are not in it', async () => {
  const { pageBytes, workerBytes } = await firstDownload(inject('pageFolder'));
  expect(pageBytes).toBeGreaterThan(100_000);
  expect(pageBytes).toBeLessThan(MOST_BYTES);
  expect(workerBytes).toBeGreaterThan(100_000);
});
