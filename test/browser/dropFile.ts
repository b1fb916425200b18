import type { Page } from 'playwright-core';

/** Lets go of a file over the page, as from the desktop. */
export async function dropFile(page: Page, name: string, bytes: Uint8Array): Promise<void> {
  const dataTransfer = await page.evaluateHandle(
    ({ fileName, base64 }) => {
      const raw = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
      const transfer = new DataTransfer();
      transfer.items.add(new File([raw], fileName));
      return transfer;
    },
    { fileName: name, base64: Buffer.from(bytes).toString('base64') },
  );
  const figure = page.getByRole('main');
  await figure.dispatchEvent('dragenter', { dataTransfer });
  await figure.dispatchEvent('dragover', { dataTransfer });
  await figure.dispatchEvent('drop', { dataTransfer });
}
