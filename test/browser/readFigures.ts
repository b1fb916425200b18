import type { Page } from 'playwright-core';

/** An amount as the page shows it. */
export interface ShownAmount {
  readonly text: string;
  /** In the smaller of the two units asked for. */
  readonly value: number;
  /** How far the printing may have rounded it: half of the last digit's worth. */
  readonly rounding: number;
}

/** Metric only: "158 g", "1.87 kg ± 0.005 kg" (the bound is left alone). In grams. */
export function readMassG(shown: string): ShownAmount {
  return readAmount(shown, { g: 1, kg: 1000 });
}

/** Metric only: "86 ml", "2.00 L". In cubic millimetres. */
export function readVolumeMm3(shown: string): ShownAmount {
  return readAmount(shown, { ml: 1e3, L: 1e6 });
}

/** Metric only: "50.2 cm²". In square millimetres. */
export function readAreaMm2(shown: string): ShownAmount {
  return readAmount(shown, { 'cm²': 1e2, 'm²': 1e6 });
}

function readAmount(shown: string, worths: Readonly<Record<string, number>>): ShownAmount {
  const text = shown.split('±')[0].trim();
  // Thousands are parted by a thin space.
  const [, whole, decimals = '', unit = ''] = /^(\d[\d\s]*)(?:\.(\d+))?\s*(\D+)$/u.exec(text) ?? [];
  const worth = worths[unit];
  if (whole === undefined || worth === undefined) {
    throw new Error(`"${text}" is no amount in ${Object.keys(worths).join(' or ')}.`);
  }
  const value = Number(`${whole.replace(/\s/gu, '')}.${decimals}`) * worth;
  return { text, value, rounding: (10 ** -decimals.length * worth) / 2 };
}

/** The whole shell's mass, from the title block. */
export async function readShellMass(page: Page): Promise<ShownAmount> {
  return readMassG((await page.locator('[data-total="shell-mass"]').textContent()) ?? '');
}

export interface ShownPiece {
  readonly name: string;
  readonly area: ShownAmount;
  readonly mass: ShownAmount;
}

/** The pieces in the table of stage 2, which must be open. */
export async function readPieces(page: Page): Promise<ShownPiece[]> {
  const rows = page.getByRole('table', { name: 'Pieces with the area of rubber' }).locator('tbody tr');
  return Promise.all(
    (await rows.all()).map(async (row) => {
      const cells = await row.getByRole('cell').allTextContents();
      return {
        // The letter before the name, by which spots go, is left out.
        name: ((await row.getByRole('rowheader').textContent()) ?? '').trim().replace(/^[A-Z]\d*\u00a0/u, ''),
        area: readAreaMm2(cells[0]),
        mass: readMassG(cells[3]),
      };
    }),
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
