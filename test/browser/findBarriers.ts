import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type axe from 'axe-core';
import type { Page } from 'playwright-core';

/** What is asked for: WCAG 2.2 at levels A and AA, and what the checker's makers hold to be good practice. */
const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

let source: Promise<string> | undefined;

/** The barriers that axe finds in the page as it stands, each with its rule and the first element it is met at. */
export async function findBarriers(page: Page): Promise<string[]> {
  source ??= readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
  // Run as the debugger does, since the page's own policy lets no script in from elsewhere.
  const isThere = await page.evaluate('typeof axe === "object"');
  if (!isThere) await page.evaluate(await source);
  const found = await page.evaluate(
    async (tags): Promise<axe.AxeResults> =>
      (globalThis as unknown as { axe: typeof axe }).axe.run(document, {
        runOnly: { type: 'tag', values: tags },
        resultTypes: ['violations'],
      }),
    TAGS,
  );
  return found.violations.flatMap(({ id, nodes }) =>
    nodes.map(({ target, failureSummary }) => {
      const why = (failureSummary ?? '').split('\n').slice(1, 3).join(' ').trim();
      return `${id} at ${target.flat().join(' ')}: ${why}`;
    }),
  );
}
