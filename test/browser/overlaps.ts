/** A rectangle of the page, px. */
export interface NamedBox {
  readonly name: string;
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** True when two share more than their borders: half a pixel is the rounding of one. */
export const overlaps = (a: NamedBox, b: NamedBox) =>
  a.left < b.right - 0.5 && b.left < a.right - 0.5 && a.top < b.bottom - 0.5 && b.top < a.bottom - 0.5;
