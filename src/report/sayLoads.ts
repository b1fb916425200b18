import type { UnitSystem } from '../core/units.ts';

/** Newtons in a pound-force and pascals in a pound-force a square inch: NIST SP 811, Appendix B.9. */
const N_PER_LBF = 4.4482216152605;
const PA_PER_PSI = 6894.757293168;

/** A force for people: "85 N", "1.13 kN"; "254 lbf". The sign is kept. */
export function sayForce(forceN: number, system: UnitSystem): string {
  if (system === 'us') return `${threeDigits(forceN / N_PER_LBF)}\u00a0lbf`;
  return Math.abs(forceN) >= 1000 ? `${threeDigits(forceN / 1000)}\u00a0kN` : `${threeDigits(forceN)}\u00a0N`;
}

/** A pressure of a fluid for people: "9.41 kPa"; "1.37 psi". */
export function sayPressure(pressurePa: number, system: UnitSystem): string {
  return system === 'us'
    ? `${threeDigits(pressurePa / PA_PER_PSI)}\u00a0psi`
    : `${threeDigits(pressurePa / 1000)}\u00a0kPa`;
}

/** A stress for people: "2.68 MPa"; "389 psi". */
export function sayStress(stressMPa: number, system: UnitSystem): string {
  return system === 'us'
    ? `${threeDigits((stressMPa * 1e6) / PA_PER_PSI)}\u00a0psi`
    : `${threeDigits(stressMPa)}\u00a0MPa`;
}

/**
 * Three digits, as many as a screening figure deserves, and no more than two places after the point; whole numbers above
 * a thousand keep theirs.
 */
function threeDigits(value: number): string {
  const size = Math.abs(value);
  if (size < 1e-3) return '0';
  const text = size >= 100 ? value.toFixed(0) : size >= 10 ? value.toFixed(1) : value.toFixed(2);
  return text.replace('-', '\u2212');
}
