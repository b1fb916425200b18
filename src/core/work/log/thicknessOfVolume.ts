import type { PieceGround } from '../WorkGround.ts';

/** Halvings after which the bracket is narrower than a Float64 can tell from any shell's thickness. */
const MOST_HALVINGS = 60;

/**
 * Distance from the rubber, mm, out to which a volume of coats reaches: the inverse of the piece's growth.
 *
 * @param volumeMm3 of coats alone, the flange left out.
 * @param knownToMm how far out the growth is known (the planned outside). What does not fit within is laid on at the area
 *   that the shell has there, since nothing is known of the growth beyond.
 * Cost: at most 60 looks at the growth. Source: bisection, which needs no more than that the growth never falls.
 */
export function thicknessOfVolume(
  ground: Pick<PieceGround, 'shellMm3' | 'areaAtMm2'>,
  volumeMm3: number,
  knownToMm: number,
): number {
  if (!(volumeMm3 > 0)) return 0;
  const beyondMm3 = volumeMm3 - ground.shellMm3(knownToMm);
  if (beyondMm3 >= 0) {
    const areaMm2 = ground.areaAtMm2(knownToMm);
    return areaMm2 > 0 ? knownToMm + beyondMm3 / areaMm2 : knownToMm;
  }
  let lowMm = 0;
  let highMm = knownToMm;
  for (let n = 0; n < MOST_HALVINGS; n++) {
    const middleMm = (lowMm + highMm) / 2;
    if (middleMm <= lowMm || middleMm >= highMm) break;
    if (ground.shellMm3(middleMm) < volumeMm3) lowMm = middleMm;
    else highMm = middleMm;
  }
  return (lowMm + highMm) / 2;
}
