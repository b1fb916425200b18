/** Newton steps; from the right side it is quadratic, and this many reach rounding from any start. */
const STEPS = 12;

/**
 * Thickness h at which a coat stands when `laidMm` of it (volume per area of rubber) is spread evenly by weight over a
 * surface of mean curvature H and Gaussian curvature K, ridges positive: the least root of h + H h^2 + K h^3 / 3 = laid.
 * In a hollow too tight to hold the coat there is no root: Infinity, the hollow fills.
 *
 * Source: Steiner's formula locally; conserved quantity of thin films on curved ground, Roy, Roberts and Simpson 2002.
 * A model of an ideal paste, not calibrated: real ones sag and are dragged thin on ridges.
 */
export function predictThickness(laidMm: number, meanPerMm: number, gaussPerMm2: number): number {
  // The cubic rises from 0 with slope 1; the least root lies before its first stationary point, if it has one.
  let h = 0;
  for (let step = 0; step < STEPS; step++) {
    const slope = 1 + 2 * meanPerMm * h + gaussPerMm2 * h * h;
    if (slope <= 0) return Infinity;
    const value = h + meanPerMm * h * h + (gaussPerMm2 * h * h * h) / 3;
    const next = h + (laidMm - value) / slope;
    if (Math.abs(next - h) < 1e-12 * laidMm) return next;
    // On a ridge the first step overshoots (the cubic is convex), after that it closes in from above.
    h = next > 0 ? next : h / 2;
  }
  const rest = h + meanPerMm * h * h + (gaussPerMm2 * h * h * h) / 3 - laidMm;
  return Math.abs(rest) < 1e-6 * laidMm ? h : Infinity;
}
