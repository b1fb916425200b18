import type { CoatKind } from '../../core/plan/PlanDocument.ts';
import { formatArea, formatMass, type UnitSystem } from '../../core/units.ts';
import type { LogReport } from '../../report/reportLog.ts';
import type { ShopOffer } from '../../session/shopOffers.ts';

const MM2_PER_CM2 = 100;

/** An offer for people: "Your last 6 batches left 85 g in the bucket; the plan takes 50 g." */
export function sayOffer(offer: ShopOffer, units: UnitSystem): string {
  const { kind, value, instead, batches } = offer;
  if (kind === 'waste') {
    return `Your last ${batches} batches left ${formatMass(value, units)} each in the bucket; the plan takes ${formatMass(instead, units)}.`;
  }
  return `In your last ${batches} batches one pair of hands laid up ${sayPace(value, units)} of ${nameKind(kind)}; the plan takes ${sayPace(instead, units)}.`;
}

/** Which batches stand out, a sentence each; they are among those of the median. */
export function sayOutliers({ lessons }: LogReport, units: UnitSystem): string[] {
  const said: string[] = [];
  for (const { of, value } of lessons.wastePerBatchG?.outliers ?? []) {
    said.push(`${nameBatch(of)} left ${formatMass(value, units)}, unlike the others.`);
  }
  for (const pace of Object.values(lessons.paceCm2PerMin)) {
    for (const { of, value } of pace.outliers) {
      said.push(`${nameBatch(of)} went on at ${sayPace(value, units)}, unlike the others.`);
    }
  }
  return said;
}

function sayPace(cm2PerMin: number, units: UnitSystem): string {
  return `${formatArea(cm2PerMin * MM2_PER_CM2, units)} a minute`;
}

function nameKind(kind: CoatKind): string {
  return kind === 'reinforced' ? 'reinforced coat' : `${kind} coat`;
}

function nameBatch({ piece, coat, number }: { piece: string; coat: number; number: number }): string {
  return `Batch ${number} of coat ${coat + 1}, piece ${piece},`;
}
