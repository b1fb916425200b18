import type { CropPlane } from '../../../core/plan/PlanDocument.ts';
import { formatLength, type UnitSystem } from '../../../core/units.ts';
import { draftOfCrop, SIDE_AZIMUTHS_DEG } from '../../../session/cutDraft.ts';

/** A cut of the plan in a few words: "Below 12 mm", "From the left", "From 30° round, 20° down". */
export function sayCut(crop: CropPlane, system: UnitSystem): string {
  const { kind, azimuthDeg, slopeDeg, offsetMm } = draftOfCrop(crop);
  if (kind === 'level') {
    const heightMm = slopeDeg < 0 ? -offsetMm : offsetMm;
    return `${slopeDeg < 0 ? 'Below' : 'Above'} ${formatLength(heightMm, system)}`;
  }
  const round = Math.round(azimuthDeg) % 360;
  if (kind === 'upright') {
    const side = Object.entries(SIDE_AZIMUTHS_DEG).find(([, deg]) => Math.abs(deg - azimuthDeg) < 1e-6);
    return side ? `From the ${side[0]}` : `From ${round}° round`;
  }
  return `From ${round}° round, ${Math.abs(Math.round(slopeDeg))}° ${slopeDeg < 0 ? 'below' : 'above'} level`;
}
