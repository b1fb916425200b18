import { type LeavableRepair, leavableOf } from '../core/plan/leavableRepairs.ts';
import { MM_PER_UNIT } from '../core/plan/lengthUnits.ts';
import type {
  CropPlane,
  LengthUnit,
  MarkedArea,
  PlanDocument,
  ScanPlan,
  UpAxis,
} from '../core/plan/PlanDocument.ts';
import { resizePlan } from './resizePlan.ts';
import type { PlanEdit } from './SessionStore.ts';

/** Radius of a new area to keep clear, mm: a hand's hold on a key or a pour opening. Own choice. */
export const FIRST_CLEAR_RADIUS_MM = 25;

/** Actions on how the scan is read and set up. Each returns the action; applying it never changes its argument. */
const changeScan =
  (change: (scan: ScanPlan) => Partial<ScanPlan>): PlanEdit =>
  (plan) => ({ ...plan, scan: { ...plan.scan, ...change(plan.scan) } });

/**
 * Takes the unit; a factor set for another unit is taken back, since it was found for that one. `unitNow` is what the
 * present answer took the file for: what was drawn on the mould then grows or shrinks with it.
 */
export const setUnit =
  (unit: LengthUnit | 'auto', unitNow: LengthUnit | null = null): PlanEdit =>
  (plan) => {
    const { scan } = plan;
    const from = scan.unit === 'auto' ? unitNow : scan.unit;
    const isKnown = unit !== 'auto' && from !== null;
    const factor = isKnown ? MM_PER_UNIT[unit] / (MM_PER_UNIT[from] * scan.scale) : 1;
    const next = resizePlan(plan, factor);
    return { ...next, scan: { ...next.scan, unit, scale: 1 } };
  };

/** Sets the factor on the unit; zero and less are left unheard. What was drawn on the mould goes along. */
export const setScale =
  (scale: number, unitNow: LengthUnit | null = null): PlanEdit =>
  (plan) =>
    scale > 0 && Number.isFinite(scale) ? withScale(plan, scale, unitNow) : plan;

/** Changes the factor so that something now `measuredMm` long becomes `trueMm` long. */
export const setTrueLength =
  (measuredMm: number, trueMm: number, unitNow: LengthUnit | null = null): PlanEdit =>
  (plan) =>
    measuredMm > 0 && trueMm > 0 ? withScale(plan, (plan.scan.scale * trueMm) / measuredMm, unitNow) : plan;

/** A guessed unit is written down with the factor: the next guess would be made from the new size. */
function withScale(plan: PlanDocument, scale: number, unitNow: LengthUnit | null): PlanDocument {
  const next = resizePlan(plan, scale / plan.scan.scale);
  const unit = plan.scan.unit === 'auto' ? (unitNow ?? 'auto') : plan.scan.unit;
  return { ...next, scan: { ...next.scan, unit, scale } };
}

export const setUpAxis = (up: UpAxis | 'auto'): PlanEdit => changeScan(() => ({ up }));

/** Turn about the up axis, degrees, brought into 0..360. */
export const setTurn = (turnDeg: number): PlanEdit =>
  changeScan(() => ({ turnDeg: ((turnDeg % 360) + 360) % 360 }));

export const setTilt = (axis: 0 | 1, tiltDeg: number): PlanEdit =>
  changeScan((s) => ({ tiltDeg: axis === 0 ? [tiltDeg, s.tiltDeg[1]] : [s.tiltDeg[0], tiltDeg] }));

export const setBoard = (board: number | 'auto' | 'none'): PlanEdit => changeScan(() => ({ board }));

/** More planes than this a plan does not hold. */
export const MOST_CROPS = 20;

/** One more plane that cuts away; left unheard when the plan holds as many as it can. */
export const addCrop = (crop: CropPlane): PlanEdit =>
  changeScan((s) => (s.crops.length < MOST_CROPS ? { crops: [...s.crops, crop] } : {}));

export const replaceCrop = (index: number, crop: CropPlane): PlanEdit =>
  changeScan((s) => ({ crops: s.crops.map((one, i) => (i === index ? crop : one)) }));

export const removeCrop = (index: number): PlanEdit =>
  changeScan((s) => ({ crops: s.crops.filter((_, i) => i !== index) }));

export const setCrumbShare = (crumbShare: number): PlanEdit =>
  changeScan(() => ({ crumbShare: Math.min(1, Math.max(0, crumbShare)) }));

export const setFillHoles = (fillHolesToMm: number): PlanEdit =>
  changeScan(() => ({ fillHolesToMm: Math.max(0, fillHolesToMm) }));

/** The repair that the user may leave undone behind a note's code, done or left; null: there is none. */
export const repairBehind = leavableOf;

/** Has a repair of the scan done, or left undone. */
export const setMended = (repair: LeavableRepair, isMended: boolean): PlanEdit =>
  changeScan(({ leave }) => {
    const others = leave.filter((one) => one !== repair);
    return { leave: isMended ? others : [...others, repair] };
  });

export const setScanIs = (is: ScanPlan['is']): PlanEdit => changeScan(() => ({ is }));

export const setRubberThickness = (rubberMm: number): PlanEdit =>
  changeScan((s) => (rubberMm > 0 ? { rubberMm } : { rubberMm: s.rubberMm }));

/** Renames an area or gives it another radius; a radius of zero or less is left unheard. */
export const changeKeepClear = (
  index: number,
  change: Partial<Pick<MarkedArea, 'name' | 'radiusMm'>>,
): PlanEdit =>
  changeScan((s) =>
    change.radiusMm === undefined || change.radiusMm > 0
      ? { keepClear: s.keepClear.map((area, i) => (i === index ? { ...area, ...change } : area)) }
      : {},
  );

export const removeKeepClear = (index: number): PlanEdit =>
  changeScan((s) => ({ keepClear: s.keepClear.filter((_, i) => i !== index) }));

export const setJobName = (name: string): PlanEdit => changeJob({ name });

export const setShopName = (shop: string): PlanEdit => changeJob({ shop });

function changeJob(change: Partial<PlanDocument['job']>): PlanEdit {
  return (plan) => ({ ...plan, job: { ...plan.job, ...change } });
}
