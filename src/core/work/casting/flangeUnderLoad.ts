/**
 * Bending of a flange that fasteners hold at an arm from the shell's face, as a cantilever of a millimetre's length: stress
 * 6 q w / f^2, MPa, and deflection of its tip 4 q w^3 / (E f^3), mm, null without a modulus.
 *
 * @param loadNPerMm force along the line, N for each millimetre.
 * @param armMm from the shell's face to the fastener.
 * Source: beam theory; the same screening as in the trade notes. Limits: an arm of the flange's own thickness or less is no slender beam.
 */
export function flangeUnderLoad(
  loadNPerMm: number,
  armMm: number,
  thicknessMm: number,
  modulusGPa: number | null,
): { readonly stressMPa: number; readonly deflectionMm: number | null } {
  return {
    stressMPa: (6 * loadNPerMm * armMm) / thicknessMm ** 2,
    deflectionMm:
      modulusGPa === null ? null : (4 * loadNPerMm * armMm ** 3) / (modulusGPa * 1000 * thicknessMm ** 3),
  };
}
