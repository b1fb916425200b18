import type { PieceResult, PlanResult } from '../PlanResult.ts';
import type { PlanDocument } from '../plan/PlanDocument.ts';

/**
 * Lowest filter figure of the UK guidance on lifting from the floor, close to the body: 7 kg (10 kg for the stronger group).
 * Source: HSE, INDG143, "Manual handling at work", as quoted. A filter for a closer look, not a limit.
 */
const FLOOR_LIFT_FILTER_KG = 7;

/** A caution and the step of the work beside which it belongs. */
export type Caution = PlanResult['cautions'][number];

/**
 * What can hurt someone in this plan, beside the step where it does. Published figures carry their source in the text.
 * It informs; it clears no work: data sheets, local codes and licensed practice win, and the last caution says so.
 */
export function listCautions(
  plan: PlanDocument,
  pieces: readonly Pick<PieceResult, 'name' | 'massG'>[],
): Caution[] {
  const cautions: Caution[] = [
    {
      // Source: NIOSH Pocket Guide, entries 0518 and 0308; 29 CFR 1910.1053 for silica.
      step: 'Mixing',
      text: 'Keep powder out of the air and wear a dust mask: gypsum dust is held to 5 mg/m³ respirable (NIOSH Pocket Guide 0518), respirable quartz to 0.05 mg/m³ (29 CFR 1910.1053); the safety data sheet says whether the powder holds quartz.',
    },
    {
      // Source: UK Health and Safety Executive, release of 12 October 2009, on a school accident of 2007.
      step: 'Setting',
      text: 'A thick mass of setting gypsum reaches about 60 °C. Never cast skin in it, never leave a hand in it or a thick mass wrapped: a pupil who cast both hands in a bucket of it was left with two fingers (HSE, 12 October 2009).',
    },
  ];
  const shellMm = plan.coats.reduce((sum, coat) => sum + coat.thicknessMm, 0);
  const { flange } = plan.parting;
  if (flange !== null && flange.widthMm <= shellMm) {
    cautions.push({
      step: 'Flange',
      text: `The flange, ${flange.widthMm} mm from the rubber, ends inside the shell of ${Number(shellMm.toFixed(2))} mm: nothing is left to clamp or bolt. Make it wider, or leave it out.`,
    });
  }
  if (plan.coats.some((coat) => coat.kind === 'reinforced') && plan.material.fibreShare > 0) {
    cautions.push({
      // Source: NIOSH Pocket Guide, fibrous glass dust.
      step: 'Reinforced coat',
      text: 'Chopped glass sheds fibres into air and skin: gloves, sleeves, goggles and a mask; held to 3 fibres/cm³ and 5 mg/m³ (NIOSH Pocket Guide, fibrous glass dust).',
    });
  }
  cautions.push({
    // Source: 29 CFR 1910.243 for the guard; 29 CFR 1926.1153 table 1 for dust at hand grinders.
    step: 'Trimming',
    text: 'Trim wet, or with a shroud and a vacuum. A grinder keeps its guard between wheel and user, and its wheel is rated for its speed (29 CFR 1910.243).',
  });
  const heavy = pieces.filter((piece) => piece.massG > FLOOR_LIFT_FILTER_KG * 1000);
  if (heavy.length > 0) {
    const named = heavy.map((piece) => `${piece.name} (${(piece.massG / 1000).toFixed(1)} kg)`).join(', ');
    cautions.push({
      step: 'Lifting',
      text: `Plan the lift of ${named}, without rubber and cast: above ${FLOOR_LIFT_FILTER_KG} kg from the floor a closer look is due (HSE INDG143, a filter and not a limit). Two people, or a hoist.`,
    });
  }
  cautions.push({
    step: 'All steps',
    text: 'Planning estimate. Follow the product’s own technical data sheet and safety data sheet where they differ; they win. Local law, codes and your insurer may ask more. Pressure, lifting and stress figures are comparisons for a skilled person, not a design; have a licensed engineer check anything that could fall, burst or trap someone. Weigh one test batch before you trust a density.',
  });
  return cautions;
}
