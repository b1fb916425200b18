/**
 * A picture as PNG, encoded beside the page's own work.
 * @param rgba four bytes a pixel, rows from the bottom, as the graphics card tells them
 */
export async function encodePicture(rgba: Uint8Array, widthPx: number): Promise<Blob> {
  const rowBytes = 4 * widthPx;
  const heightPx = rgba.length / rowBytes;
  const picture = new ImageData(widthPx, heightPx);
  for (let row = 0; row < heightPx; row++) {
    picture.data.set(rgba.subarray(row * rowBytes, (row + 1) * rowBytes), (heightPx - 1 - row) * rowBytes);
  }
  // Kept out of the graphics card, which may be busy: to be encoded is all that it is for.
  const canvas = new OffscreenCanvas(widthPx, heightPx);
  const pencil = canvas.getContext('2d', { willReadFrequently: true });
  if (pencil === null) throw new Error('The browser could not make a PNG of the picture.');
  pencil.putImageData(picture, 0, 0);
  return canvas.convertToBlob({ type: 'image/png' });
}
