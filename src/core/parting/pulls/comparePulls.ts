/** The figures by which pulls are ranked. */
export interface PullMerit {
  readonly depthMm: number;
  readonly fillerMm3: number;
  readonly areaMm2: number;
}

/**
 * Below 0 when `a` is the better pull: less deep lock, then less filler, then less area. Depths are compared in steps of
 * `stepMm`, since those nearer together cannot be told apart by raster.
 */
export function comparePulls(a: PullMerit, b: PullMerit, stepMm: number): number {
  return (
    Math.floor(a.depthMm / stepMm) - Math.floor(b.depthMm / stepMm) ||
    a.fillerMm3 - b.fillerMm3 ||
    a.areaMm2 - b.areaMm2
  );
}
