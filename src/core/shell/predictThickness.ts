/** Steps of Newton's method kept between bounds: quadratic near the root, halving where it would leave them. */
const STEPS = 60;

/** Share of the laid thickness to which the root is found; far below what a hand can lay. */
const CLOSE_ENOUGH = 1e-7;

/**
 * Thickness h at which a coat stands when `laidMm` of it (volume per area of rubber) is spread evenly by weight over a
 * surface of mean curvature H and Gaussian curvature K, ridges positive: the least root of h + H h^2 + K h^3 / 3 = laid.
 * In a hollow too tight to hold the coat there is no root: Infinity, the hollow fills.
 *
 * Source: Steiner's formula locally; conserved quantity of thin films on curved ground, Roy, Roberts and Simpson 2002.
 * A model of an ideal paste, not calibrated: real ones sag and are dragged thin on ridges.
 */
export function predictThickness(laidMm: number, meanPerMm: number, gaussPerMm2: number): number {
  const cubic = gaussPerMm2 / 3;
  // The cubic rises from 0 with slope 1; the least root lies before its first stationary point, if it has one.
  let low = 0;
  let high = mostHeight(meanPerMm, gaussPerMm2);
  if (high !== Infinity && high * (1 + high * (meanPerMm + high * cubic)) < laidMm) return Infinity;
  const enough = laidMm * CLOSE_ENOUGH;
  let h = Math.min(laidMm, high);
  for (let step = 0; step < STEPS; step++) {
    const over = h * (1 + h * (meanPerMm + h * cubic)) - laidMm;
    if (over > 0) high = h;
    else low = h;
    const next = h - over / (1 + h * (2 * meanPerMm + h * gaussPerMm2));
    if (Math.abs(next - h) < enough) return next;
    // Near a stationary point Newton's step leaves the bracket; halving does not. Without one it may go up freely.
    h = next > low && next < high ? next : high === Infinity ? 2 * h : (low + high) / 2;
  }
  return h;
}

/**
 * Volume that stands on a unit of area up to height `heightMm`, mm: what has to be laid for it. The other way of `predictThickness`
 * as long as the height is below `mostHeight`.
 */
export function laidForHeight(heightMm: number, meanPerMm: number, gaussPerMm2: number): number {
  return heightMm * (1 + heightMm * (meanPerMm + (heightMm * gaussPerMm2) / 3));
}

/** The height at which a hollow of these curvatures is full, mm: the least h > 0 with 1 + 2 H h + K h^2 = 0; Infinity where it never is. */
export function mostHeight(meanPerMm: number, gaussPerMm2: number): number {
  const root = meanPerMm * meanPerMm - gaussPerMm2;
  if (root < 0) return Infinity;
  // Written so that no two nearly equal numbers are subtracted: the roots are 1 / (-H +- sqrt(H^2 - K)).
  const inverse = Math.sqrt(root) - meanPerMm;
  return inverse > 0 ? 1 / inverse : Infinity;
}
