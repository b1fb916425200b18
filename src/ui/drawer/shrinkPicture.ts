/** Width of a kept plan's picture, px: twice that of its place in the drawer, for fine screens. */
export const PICTURE_WIDTH_PX = 240;

/** The picture, no wider than that, as a PNG; null when there is none, or the browser cannot. */
export async function shrinkPicture(picture: Blob | null | undefined): Promise<Blob | null> {
  if (!picture) return null;
  try {
    const bitmap = await createImageBitmap(picture);
    const scale = Math.min(1, PICTURE_WIDTH_PX / bitmap.width);
    const canvas = new OffscreenCanvas(
      Math.max(1, Math.round(bitmap.width * scale)),
      Math.max(1, Math.round(bitmap.height * scale)),
    );
    const pencil = canvas.getContext('2d');
    if (!pencil) return null;
    pencil.imageSmoothingQuality = 'high';
    pencil.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
    bitmap.close();
    return await canvas.convertToBlob({ type: 'image/png' });
  } catch {
    return null;
  }
}
