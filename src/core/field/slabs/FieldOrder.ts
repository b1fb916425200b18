/** What field is wanted. */
export interface FieldOrder {
  readonly cellMm: number;
  readonly bandMm: number;
  /** S closes with the board. */
  readonly isClosed: boolean;
  /** Distance of two knots of the volume tables, mm, and their number. */
  readonly knotMm: number;
  readonly knotCount: number;
}
