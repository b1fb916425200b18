/**
 * Radius of the arc over a chord with a rise, mm: c^2/(8 h) + h/2. Exact for a circle's arc up to its half; a rise
 * beyond half the chord is taken as a half circle over the chord, since the walls below it stand straight.
 */
export function arcRadiusMm(chordMm: number, riseMm: number): number {
  const rise = Math.min(riseMm, chordMm / 2);
  return (chordMm * chordMm) / (8 * rise) + rise / 2;
}
