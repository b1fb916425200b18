import { formatArea, formatMass, type UnitSystem } from '../../core/units.ts';
import type { LogReport } from '../../report/reportLog.ts';

const MM2_PER_CM2 = 100;

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

function nameBatch({ piece, coat, number }: { piece: string; coat: number; number: number }): string {
  return `Batch ${number} of coat ${coat + 1}, piece ${piece},`;
}
