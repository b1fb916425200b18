/** Cells from `from` up to `to` (not included) along one axis of a grid. */
export interface CellRange {
  readonly axis: 0 | 1 | 2;
  readonly from: number;
  readonly to: number;
}
