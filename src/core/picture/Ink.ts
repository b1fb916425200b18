import type { Rgb } from './pictureInks.ts';
import { PAPER } from './pictureInks.ts';
import { NOTHING, type SideRaster } from './SideRaster.ts';

/** A colour picture of a raster's size that can be stroked on: red green blue, eight bits each. */
export class Ink {
  readonly rgb: Uint8Array;

  constructor(
    readonly width: number,
    readonly height: number,
  ) {
    this.rgb = new Uint8Array(3 * width * height);
  }

  /** Lays the pieces' tints in their brightness, and paper where nothing stands. */
  fill(raster: SideRaster, tintOf: (region: number) => Rgb): void {
    const { rgb } = this;
    const { region, shade } = raster;
    let last = NOTHING;
    let [red, green, blue] = PAPER;
    for (let n = 0, at = 0; n < region.length; n++, at += 3) {
      if (region[n] !== last) {
        last = region[n];
        [red, green, blue] = last === NOTHING ? PAPER : tintOf(last);
      }
      const light = last === NOTHING ? 1 : shade[n];
      rgb[at] = Math.min(255, red * light + 0.5);
      rgb[at + 1] = Math.min(255, green * light + 0.5);
      rgb[at + 2] = Math.min(255, blue * light + 0.5);
    }
  }

  /** A dot about a point (pixels), laid over with so much of the ink: 1 covers, less lets through. */
  dot(x: number, y: number, radius: number, colour: Rgb, cover: number): void {
    const { rgb, width, height } = this;
    const x0 = Math.max(0, Math.ceil(x - radius - 0.5));
    const x1 = Math.min(width - 1, Math.floor(x + radius - 0.5));
    const y0 = Math.max(0, Math.ceil(y - radius - 0.5));
    const y1 = Math.min(height - 1, Math.floor(y + radius - 0.5));
    const reach = radius * radius;
    for (let py = y0; py <= y1; py++) {
      for (let px = x0; px <= x1; px++) {
        const dx = px + 0.5 - x;
        const dy = py + 0.5 - y;
        if (dx * dx + dy * dy > reach) continue;
        const n = 3 * (py * width + px);
        for (let k = 0; k < 3; k++) rgb[n + k] += Math.round(cover * (colour[k] - rgb[n + k]));
      }
    }
  }

  /** The mean of each block of `factor` x `factor` pixels, as a new picture's bytes. Sizes are multiples of `factor`. */
  shrink(factor: number): Uint8Array {
    const { rgb, width, height } = this;
    const w = width / factor;
    const h = height / factor;
    const out = new Uint8Array(3 * w * h);
    const share = 1 / (factor * factor);
    for (let y = 0; y < h; y++) {
      for (let x = 0; x < w; x++) {
        for (let k = 0; k < 3; k++) {
          let sum = 0;
          for (let dy = 0; dy < factor; dy++) {
            for (let dx = 0; dx < factor; dx++) {
              sum += rgb[3 * ((y * factor + dy) * width + x * factor + dx) + k];
            }
          }
          out[3 * (y * w + x) + k] = Math.round(sum * share);
        }
      }
    }
    return out;
  }
}
