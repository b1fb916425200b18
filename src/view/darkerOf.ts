import { Color } from 'three';

/** The darker of two sRGB hex colours by luminance: shade and cut outlines stay dark on a slate sheet too. Source of the weights: ITU-R BT.709 (from memory). */
export function darkerOf(a: string, b: string): string {
  return luminance(a) <= luminance(b) ? a : b;
}

function luminance(hex: string): number {
  const { r, g, b } = new Color(hex);
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
