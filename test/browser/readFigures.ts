import type { Page } from 'playwright-core';
import { parseMass } from '../../src/core/units.ts';

/** A mass as the page shows it: its grams, and how far the printing may have rounded them. */
export interface ShownMass {
  readonly text: string;
  readonly g: number;
  /** Half of the last digit's worth. */
  readonly roundingG: number;
}

/** Metric only: "158 g", "1.87 kg ± 0.005 kg" (the bound is left alone). */
export function readMass(shown: string): ShownMass {
  const text = shown.split('±')[0].trim();
  const parsed = parseMass(text, 'g');
  const digits = /^\d[\d\s]*(?:\.(\d+))?\s*(k?g)$/u.exec(text);
  if ('problem' in parsed || digits === null) throw new Error(`"${text}" is no mass in g or kg.`);
  const lastDigit = 10 ** -(digits[1]?.length ?? 0) * (digits[2] === 'kg' ? 1000 : 1);
  return { text, g: parsed.g, roundingG: lastDigit / 2 };
}

/** The whole shell's mass, from the title block. */
export async function readShellMass(page: Page): Promise<ShownMass> {
  return readMass((await page.locator('[data-total="shell-mass"]').textContent()) ?? '');
}

/** Name and mass of each piece, from the table of stage 2, which must be open. */
export async function readPieces(page: Page): Promise<{ name: string; mass: ShownMass }[]> {
  const rows = page.getByRole('table', { name: 'Pieces with the area of rubber' }).locator('tbody tr');
  return Promise.all(
    (await rows.all()).map(async (row) => ({
      name: ((await row.getByRole('rowheader').textContent()) ?? '').trim(),
      mass: readMass((await row.getByRole('cell').last().textContent()) ?? ''),
    })),
  );
}

/** A row of a stage's table: the text of its cells, bounds cut off. */
export async function readRow(page: Page, rowName: string): Promise<string[]> {
  const row = page
    .getByRole('row')
    .filter({ has: page.getByRole('rowheader', { name: rowName, exact: true }) });
  const cells = await row.getByRole('cell').allInnerTexts();
  return cells.map((cell) => cell.split('±')[0].trim());
}

/** Opens one of the five stages by its button in the margin. */
export async function openStage(
  page: Page,
  name: 'Scan' | 'Parting' | 'Coats' | 'Mix' | 'Sheet',
): Promise<void> {
  await page.getByRole('navigation').or(page.locator('scute-rail')).getByRole('button', { name }).click();
}
