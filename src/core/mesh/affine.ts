/** Row-major 3 x 4: x' = a[0] x + a[1] y + a[2] z + a[3], and so on. */
export type Affine = readonly number[];

export const IDENTITY: Affine = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0];

/** The affine map that does `first`, then `second`. */
export function composeAffine(second: Affine, first: Affine): Affine {
  const out: number[] = [];
  for (let r = 0; r < 3; r++) {
    for (let c = 0; c < 4; c++) {
      let sum = c === 3 ? second[4 * r + 3] : 0;
      for (let k = 0; k < 3; k++) sum += second[4 * r + k] * first[4 * k + c];
      out.push(sum);
    }
  }
  return out;
}

/** The points (n x 3) mapped, as a new array. */
export function mapPoints(points: Float64Array, a: Affine): Float64Array {
  const out = new Float64Array(points.length);
  for (let i = 0; i < points.length; i += 3) {
    const x = points[i];
    const y = points[i + 1];
    const z = points[i + 2];
    out[i] = a[0] * x + a[1] * y + a[2] * z + a[3];
    out[i + 1] = a[4] * x + a[5] * y + a[6] * z + a[7];
    out[i + 2] = a[8] * x + a[9] * y + a[10] * z + a[11];
  }
  return out;
}

export function scaleBy(factor: number): Affine {
  return [factor, 0, 0, 0, 0, factor, 0, 0, 0, 0, factor, 0];
}

export function shiftUp(heightMm: number): Affine {
  return [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, heightMm];
}
