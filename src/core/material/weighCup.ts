import { PlanError } from '../errors.ts';

/** Water at 20 °C: from memory, 0.998 g/ml; at 10 or 25 °C it is within 0.2 % of that. */
const WATER_G_PER_ML = 0.998;
/** Outside of these the cup was misread or the unit mistaken: lighter than foam, heavier than lead. */
const LEAST_G_PER_CM3 = 0.05;
const MOST_G_PER_CM3 = 12;

/** Weights on the scale with the cup, g. The cup's volume is printed on it, or weighed: its fill of water. */
export type WeighedCup =
  | { readonly emptyG: number; readonly fullG: number; readonly cupMl: number }
  | { readonly emptyG: number; readonly fullG: number; readonly waterG: number };

/**
 * Density of what fills a cup to the brim, g/cm3. `waterG` is the cup brim-full of water on the same scale.
 * Throws PlanError 'bad-material' with the field that cannot be right.
 */
export function weighCup(cup: WeighedCup): number {
  const { emptyG, fullG } = cup;
  if (!(Number.isFinite(emptyG) && emptyG >= 0)) {
    throw new PlanError(
      'bad-material',
      `The empty cup weighs ${emptyG} g; weigh it and type that.`,
      'emptyG',
    );
  }
  if (!(Number.isFinite(fullG) && fullG > emptyG)) {
    throw new PlanError(
      'bad-material',
      `The full cup weighs ${fullG} g, no more than the empty one with ${emptyG} g. Weigh both with the cup, and leave the scale's tare off.`,
      'fullG',
    );
  }
  const densityGPerCm3 = (fullG - emptyG) / cupVolumeMl(cup);
  if (densityGPerCm3 < LEAST_G_PER_CM3 || densityGPerCm3 > MOST_G_PER_CM3) {
    throw new PlanError(
      'bad-material',
      `That comes to ${Number(densityGPerCm3.toPrecision(3))} g/cm3, which no mix has (${LEAST_G_PER_CM3} to ${MOST_G_PER_CM3}). See whether the weights are in grams and the cup in millilitres.`,
      'cupMl' in cup ? 'cupMl' : 'waterG',
    );
  }
  return densityGPerCm3;
}

function cupVolumeMl(cup: WeighedCup): number {
  if ('cupMl' in cup) {
    if (Number.isFinite(cup.cupMl) && cup.cupMl > 0) return cup.cupMl;
    throw new PlanError(
      'bad-material',
      `The cup holds ${cup.cupMl} ml; type what it holds when full to the brim.`,
      'cupMl',
    );
  }
  const { emptyG, waterG } = cup;
  if (Number.isFinite(waterG) && waterG > emptyG) return (waterG - emptyG) / WATER_G_PER_ML;
  throw new PlanError(
    'bad-material',
    `The cup full of water weighs ${waterG} g, no more than the empty one with ${emptyG} g. Weigh both with the cup.`,
    'waterG',
  );
}
