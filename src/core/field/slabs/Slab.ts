/** A slice of the grid's bricks square to an axis: those from `fromBrick` up to `toBrick` (not included). */
export interface Slab {
  readonly axis: 0 | 1 | 2;
  readonly fromBrick: number;
  readonly toBrick: number;
}

/** The bricks of a slab, measured and integrated; as `BandGrid` and `BrickTables` hold them. */
export interface SlabField {
  /** brickCount x 3 */
  readonly corners: Int32Array;
  /** brickCount x BRICK_CELLS */
  readonly phi: Float32Array;
  readonly tri: Int32Array;
  /** brickCount x knotCount x TABLE_WIDTH */
  readonly rows: Float64Array;
}
