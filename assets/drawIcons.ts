import { writeFileSync } from 'node:fs';
import { encode } from 'fast-png';

/**
 * Draws the page's picture (icons/icon.svg: a shell with its parting line) as PNG in the sizes that an installed page asks for:
 * `npx tsx assets/drawIcons.ts`. Own arithmetic: each pixel is the mean of 8 x 8 points.
 */
const PAPER = [0xf6, 0xf3, 0xeb];
const INK = [0x22, 0x26, 0x2a];
const RUST = [0xa5, 0x40, 0x1f];
/** Outline in units of 1/32 of the side, as in the SVG. */
const OUTLINE = [
  [16, 3],
  [27, 9],
  [27, 22],
  [16, 29],
  [5, 22],
  [5, 9],
] as const;
const SAMPLES = 8;

/** @param isMaskable filled to the edges, the drawing within the middle that every mask leaves (80 % across). */
function draw(sidePx: number, isMaskable: boolean): Uint8Array {
  const data = new Uint8Array(4 * sidePx * sidePx);
  const scale = (isMaskable ? 32 / 0.72 : 32) / sidePx;
  const shift = isMaskable ? (32 - 32 / 0.72) / 2 : 0;
  for (let row = 0; row < sidePx; row++) {
    for (let column = 0; column < sidePx; column++) {
      const sum = [0, 0, 0, 0];
      for (let s = 0; s < SAMPLES * SAMPLES; s++) {
        const x = (column + ((s % SAMPLES) + 0.5) / SAMPLES) * scale + shift;
        const y = (row + (Math.floor(s / SAMPLES) + 0.5) / SAMPLES) * scale + shift;
        const colour = colourAt(x, y) ?? (isMaskable ? PAPER : null);
        if (colour === null) continue;
        for (let k = 0; k < 3; k++) sum[k] += colour[k];
        sum[3]++;
      }
      const at = 4 * (row * sidePx + column);
      for (let k = 0; k < 3; k++) data[at + k] = sum[3] > 0 ? Math.round(sum[k] / sum[3]) : 0;
      data[at + 3] = Math.round((255 * sum[3]) / SAMPLES ** 2);
    }
  }
  return encode({ width: sidePx, height: sidePx, data, channels: 4 });
}

function colourAt(x: number, y: number): readonly number[] | null {
  if (Math.abs(x - 16) <= 1.5 && y >= 3 && y <= 29) return RUST;
  let isInside = true;
  let nearest = Infinity;
  OUTLINE.forEach(([ax, ay], n) => {
    const [bx, by] = OUTLINE[(n + 1) % OUTLINE.length];
    const [ux, uy] = [bx - ax, by - ay];
    const along = Math.min(1, Math.max(0, ((x - ax) * ux + (y - ay) * uy) / (ux * ux + uy * uy)));
    nearest = Math.min(nearest, Math.hypot(ax + along * ux - x, ay + along * uy - y));
    if (ux * (y - ay) - uy * (x - ax) < 0) isInside = false;
  });
  if (nearest <= 1) return INK;
  return isInside ? PAPER : null;
}

for (const [name, sidePx, isMaskable] of [
  ['icon-192.png', 192, false],
  ['icon-512.png', 512, false],
  ['icon-maskable-512.png', 512, true],
] as const) {
  writeFileSync(new URL(`icons/${name}`, import.meta.url), draw(sidePx, isMaskable));
}
