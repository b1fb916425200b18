import type { Ink } from './Ink.ts';
import { GRAPHITE } from './pictureInks.ts';
import { NOTHING, type SideRaster } from './SideRaster.ts';

/** Folds are drawn lighter than the outline, so that the outline stays the strongest line. */
const FOLD_COVER = 0.3;

/**
 * Draws in graphite where the mould ends (full strength), where a nearer part of it hides a farther one, and where two pieces
 * meet. `jumpMm`: how much farther the surface must lie behind an edge, beyond running on as it did, to be drawn as one.
 */
export function inkEdges(raster: SideRaster, ink: Ink, radius: number, jumpMm: number): void {
  const { width, height, region, depthMm } = raster;
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      const n = y * width + x;
      if (region[n] === NOTHING) continue;
      if (isFold(n, 1) || isFold(n, width)) ink.dot(x + 0.5, y + 0.5, radius * 0.6, GRAPHITE, FOLD_COVER);
      else if (isBorder(n)) ink.dot(x + 0.5, y + 0.5, radius * 0.6, GRAPHITE, FOLD_COVER);
    }
  }
  // After the folds, so that none of them thins the outline.
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const n = y * width + x;
      if (region[n] !== NOTHING && isRim(x, y, n)) ink.dot(x + 0.5, y + 0.5, radius, GRAPHITE, 1);
    }
  }

  /** The nearer side of a step in depth along one axis: a plain slope has none, however steep. */
  function isFold(n: number, step: number): boolean {
    const here = depthMm[n];
    const before = depthMm[n - step];
    const after = depthMm[n + step];
    if (before === -Infinity || after === -Infinity) return false;
    return 2 * here - before - after > jumpMm;
  }

  function isBorder(n: number): boolean {
    const right = region[n + 1];
    const below = region[n + width];
    return (right !== NOTHING && right !== region[n]) || (below !== NOTHING && below !== region[n]);
  }

  function isRim(x: number, y: number, n: number): boolean {
    if (x === 0 || y === 0 || x === width - 1 || y === height - 1) return true;
    return (
      region[n - 1] === NOTHING ||
      region[n + 1] === NOTHING ||
      region[n - width] === NOTHING ||
      region[n + width] === NOTHING
    );
  }
}
