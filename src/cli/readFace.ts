import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dataUri } from '../report/dataUri.ts';
import type { SheetFace } from '../report/sheet/sheetPage.ts';

const PACKAGE = '@fontsource/atkinson-hyperlegible';

/** The page's face for the sheet's file, or null where it is not installed: the sheet is then set in the system's own. */
export async function readFace(): Promise<SheetFace | null> {
  const { resolve } = createRequire(import.meta.url);
  try {
    const [regularHref, boldHref] = await Promise.all(
      [400, 700].map(async (weight) => {
        const path = resolve(`${PACKAGE}/files/atkinson-hyperlegible-latin-${weight}-normal.woff2`);
        return dataUri(await readFile(path), 'font/woff2');
      }),
    );
    return { family: 'Atkinson Hyperlegible', regularHref, boldHref };
  } catch {
    return null;
  }
}
