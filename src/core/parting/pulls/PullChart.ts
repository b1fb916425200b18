/** How bad each pull direction is, over the directions of a half sphere (or all, without a board). */
export interface PullChart {
  /** 'mould': a pair, this way and the opposite, for the whole surface. Else the index of the piece. */
  readonly of: 'mould' | number;
  /** n x 3 unit vectors. */
  readonly directions: Float32Array;
  /** By direction: undercut area, greatest depth, filler. */
  readonly areaMm2: Float32Array;
  readonly depthMm: Float32Array;
  readonly fillerMm3: Float32Array;
  /** The best few, apart from each other, best first: indices into the directions. */
  readonly best: readonly number[];
  readonly stepDeg: number;
}
