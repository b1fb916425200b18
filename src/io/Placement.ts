/** Where a part stands in the whole: rows of a 3 x 4 matrix, x' = m[0] x + m[1] y + m[2] z + m[3], and so on. */
export type Placement = readonly number[];

export const UNPLACED: Placement = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0];

/** The placement that does `inner` first, then `outer`. */
export function nested(outer: Placement, inner: Placement): Placement {
  const out: number[] = [];
  for (let row = 0; row < 12; row += 4) {
    for (let col = 0; col < 4; col++) {
      out.push(
        outer[row] * inner[col] +
          outer[row + 1] * inner[4 + col] +
          outer[row + 2] * inner[8 + col] +
          (col === 3 ? outer[row + 3] : 0),
      );
    }
  }
  return out;
}

/** Whether the placement mirrors: triangles then turn the other way round. */
export function isMirroring(m: Placement): boolean {
  return (
    m[0] * (m[5] * m[10] - m[6] * m[9]) -
      m[1] * (m[4] * m[10] - m[6] * m[8]) +
      m[2] * (m[4] * m[9] - m[5] * m[8]) <
    0
  );
}
