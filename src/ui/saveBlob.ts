/** Long enough for the browser to have taken the data over, ms. */
const REVOKE_AFTER_MS = 10_000;

/** Hands data to the browser as a download of this name. */
export function saveBlob(name: string, blob: Blob): void {
  const url = URL.createObjectURL(blob);
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), REVOKE_AFTER_MS);
}
