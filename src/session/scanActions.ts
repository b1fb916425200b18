import type { CropPlane, LengthUnit, PlanDocument, ScanPlan, UpAxis } from '../core/plan/PlanDocument.ts';
import type { PlanEdit } from './SessionStore.ts';

/** Actions on how the scan is read and set up. Each returns the action; applying it never changes its argument. */
const changeScan =
  (change: (scan: ScanPlan) => Partial<ScanPlan>): PlanEdit =>
  (plan) => ({ ...plan, scan: { ...plan.scan, ...change(plan.scan) } });

/** Takes the unit; a factor set for another unit is taken back, since it was found for that one. */
export const setUnit = (unit: LengthUnit | 'auto'): PlanEdit => changeScan(() => ({ unit, scale: 1 }));

export const setScale = (scale: number): PlanEdit =>
  changeScan((s) => (scale > 0 && Number.isFinite(scale) ? { scale } : { scale: s.scale }));

/** Changes the factor so that something now `measuredMm` long becomes `trueMm` long. */
export const setTrueLength = (measuredMm: number, trueMm: number): PlanEdit =>
  changeScan((s) => (measuredMm > 0 && trueMm > 0 ? { scale: (s.scale * trueMm) / measuredMm } : {}));

export const setUpAxis = (up: UpAxis | 'auto'): PlanEdit => changeScan(() => ({ up }));

/** Turn about the up axis, degrees, brought into 0..360. */
export const setTurn = (turnDeg: number): PlanEdit =>
  changeScan(() => ({ turnDeg: ((turnDeg % 360) + 360) % 360 }));

export const setTilt = (axis: 0 | 1, tiltDeg: number): PlanEdit =>
  changeScan((s) => ({ tiltDeg: axis === 0 ? [tiltDeg, s.tiltDeg[1]] : [s.tiltDeg[0], tiltDeg] }));

export const setBoard = (board: number | 'auto' | 'none'): PlanEdit => changeScan(() => ({ board }));

/** Pointing down: kept is what lies above the plane. */
const isLevelCrop = (crop: CropPlane): boolean =>
  crop.normal[0] === 0 && crop.normal[1] === 0 && crop.normal[2] === -1;

/** Height of the level cut that takes a table away, mm above the board; null when there is none. */
export function levelCropMm(scan: ScanPlan): number | null {
  const crop = scan.crops.find(isLevelCrop);
  return crop ? -crop.offsetMm : null;
}

/** Cuts away everything below `heightMm` above the board; null takes that cut back. Other cuts stay. */
export const setLevelCrop = (heightMm: number | null): PlanEdit =>
  changeScan((s) => {
    const others = s.crops.filter((c) => !isLevelCrop(c));
    return {
      crops: heightMm === null ? others : [...others, { normal: [0, 0, -1] as const, offsetMm: -heightMm }],
    };
  });

export const setCrumbShare = (crumbShare: number): PlanEdit =>
  changeScan(() => ({ crumbShare: Math.min(1, Math.max(0, crumbShare)) }));

export const setFillHoles = (fillHolesToMm: number): PlanEdit =>
  changeScan(() => ({ fillHolesToMm: Math.max(0, fillHolesToMm) }));

export const setScanIs = (is: ScanPlan['is']): PlanEdit => changeScan(() => ({ is }));

export const setRubberThickness = (rubberMm: number): PlanEdit =>
  changeScan((s) => (rubberMm > 0 ? { rubberMm } : { rubberMm: s.rubberMm }));

export const setJobName = (name: string): PlanEdit => changeJob({ name });

export const setShopName = (shop: string): PlanEdit => changeJob({ shop });

function changeJob(change: Partial<PlanDocument['job']>): PlanEdit {
  return (plan) => ({ ...plan, job: { ...plan.job, ...change } });
}
