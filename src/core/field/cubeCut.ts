/** Components smaller than this share of the largest count as zero: the cubic formulas would divide by them. */
const TINY = 1e-7;

/** Half the extent of a unit cube along the unit direction n: |n . x| <= this for x in the cube about the origin. */
export function cubeReach(nx: number, ny: number, nz: number): number {
  return 0.5 * (Math.abs(nx) + Math.abs(ny) + Math.abs(nz));
}

/**
 * Share (0..1) of the unit cube about the origin on the side { x : n . x <= offset } of a plane. `n` need not be a unit
 * vector but must not be zero.
 *
 * Source: R. Scardovelli and S. Zaleski, "Analytical relations connecting linear interfaces and volume fractions in
 * rectangular grids", J. Comput. Phys. 164 (2000) 228-237.
 */
export function cubeCut(nx: number, ny: number, nz: number, offset: number): number {
  let m1 = Math.abs(nx);
  let m2 = Math.abs(ny);
  let m3 = Math.abs(nz);
  const sum = m1 + m2 + m3;
  let alpha = 0.5 + offset / sum;
  if (alpha <= 0) return 0;
  if (alpha >= 1) return 1;
  m1 /= sum;
  m2 /= sum;
  m3 /= sum;
  let swap: number;
  if (m1 > m2) {
    swap = m1;
    m1 = m2;
    m2 = swap;
  }
  if (m2 > m3) {
    swap = m2;
    m2 = m3;
    m3 = swap;
  }
  if (m1 > m2) {
    swap = m1;
    m1 = m2;
    m2 = swap;
  }
  const isUpper = alpha > 0.5;
  if (isUpper) alpha = 1 - alpha;
  const share = lowerShare(m1, m2, m3, alpha);
  return isUpper ? 1 - share : share;
}

/**
 * `cubeCut` for several planes of one direction: `out[k]` for the offset `from + k * step`, k below `count`.
 * What depends on the direction alone is worked out once.
 */
export function cubeCuts(
  nx: number,
  ny: number,
  nz: number,
  from: number,
  step: number,
  count: number,
  out: Float64Array,
): void {
  const a = Math.abs(nx);
  const b = Math.abs(ny);
  const c = Math.abs(nz);
  const perSum = 1 / (a + b + c);
  const m1 = Math.min(a, b, c) * perSum;
  const m3 = Math.max(a, b, c) * perSum;
  const m2 = Math.max(Math.min(a, b), Math.min(Math.max(a, b), c)) * perSum;
  for (let k = 0; k < count; k++) {
    const alpha = 0.5 + (from + k * step) * perSum;
    if (alpha <= 0) out[k] = 0;
    else if (alpha >= 1) out[k] = 1;
    else out[k] = alpha > 0.5 ? 1 - lowerShare(m1, m2, m3, 1 - alpha) : lowerShare(m1, m2, m3, alpha);
  }
}

/** Share cut off by a plane m . x = alpha from the corner of the unit cube, m1 <= m2 <= m3, sum 1, alpha <= 1/2. */
function lowerShare(m1: number, m2: number, m3: number, alpha: number): number {
  if (m2 < TINY) return (alpha - (m1 + m2) / 2) / m3;
  if (m1 < TINY) {
    // The cut is a prism along axis 1; alpha <= 1/2 <= m3 here.
    return alpha < m2 ? (alpha * alpha) / (2 * m2 * m3) : (alpha - 0.5 * m2) / m3;
  }
  const m12 = m1 + m2;
  const six = 6 * m1 * m2 * m3;
  if (alpha < m1) return (alpha * alpha * alpha) / six;
  if (alpha < m2) return (alpha * (alpha - m1)) / (2 * m2 * m3) + (m1 * m1) / (6 * m2 * m3);
  if (alpha < Math.min(m12, m3)) {
    return (
      (alpha * alpha * (3 * m12 - alpha) + m1 * m1 * (m1 - 3 * alpha) + m2 * m2 * (m2 - 3 * alpha)) / six
    );
  }
  if (m3 >= m12) return (2 * alpha - m12) / (2 * m3);
  return (
    (alpha * alpha * (3 - 2 * alpha) +
      m1 * m1 * (m1 - 3 * alpha) +
      m2 * m2 * (m2 - 3 * alpha) +
      m3 * m3 * (m3 - 3 * alpha)) /
    six
  );
}
