import type { Vec3 } from '../core/mesh/TriMesh.ts';
import type { MarkedArea, PlanDocument } from '../core/plan/PlanDocument.ts';
import { freeAreaName } from './freeAreaName.ts';
import type { PlanEdit } from './SessionStore.ts';

/** Dabs of a stroke lie this share of the brush's radius apart: the border is then scalloped by 3 % of it. Own choice. */
export const DAB_SPACING_SHARE = 0.5;
/** What the plan holds at most in one area. */
export const MOST_DABS = 2000;

/**
 * The dabs that a stroke through these points adds to those that lie there: along each leg at the spacing, none nearer than
 * that to one that is there already.
 */
export function dabsOfStroke(
  points: readonly Vec3[],
  lying: readonly Vec3[],
  radiusMm: number,
): readonly Vec3[] {
  const apartMm = DAB_SPACING_SHARE * radiusMm;
  const added: Vec3[] = [];
  const isFree = (p: Vec3) => [...lying, ...added].every((q) => distance(p, q) > 0.999 * apartMm);
  points.forEach((to, n) => {
    const from = n === 0 ? to : points[n - 1];
    const steps = Math.max(1, Math.ceil(distance(from, to) / apartMm));
    for (let step = n === 0 ? steps : 1; step <= steps; step++) {
      const share = step / steps;
      const dab: Vec3 = [
        from[0] + share * (to[0] - from[0]),
        from[1] + share * (to[1] - from[1]),
        from[2] + share * (to[2] - from[2]),
      ];
      if (isFree(dab)) added.push(dab);
    }
  });
  return added;
}

/** A new area to keep clear, as one stroke has painted it; a stroke without dabs adds none. */
export const startClearArea = (dabsMm: readonly Vec3[], radiusMm: number): PlanEdit =>
  changeClear((areas) =>
    dabsMm.length === 0
      ? areas
      : [...areas, { name: freeAreaName('Clear', areas), radiusMm, dabsMm: dabsMm.slice(0, MOST_DABS) }],
  );

/** More dabs on the area with this index, as many as the plan holds. */
export const paintClearArea = (index: number, dabsMm: readonly Vec3[]): PlanEdit =>
  changeClear((areas) =>
    areas.map((area, i) =>
      i === index ? { ...area, dabsMm: [...area.dabsMm, ...dabsMm].slice(0, MOST_DABS) } : area,
    ),
  );

/** Takes away the dabs whose middles lie within `radiusMm` of a point of the stroke; an area without any goes. */
export const eraseClear = (points: readonly Vec3[], radiusMm: number): PlanEdit =>
  changeClear((areas) =>
    areas.flatMap((area) => {
      const left = leftAfterErasing(area.dabsMm, points, radiusMm);
      return left.length === 0 ? [] : [{ ...area, dabsMm: left }];
    }),
  );

/** The dabs that an eraser of this radius, drawn through these points, leaves. */
export function leftAfterErasing(
  dabsMm: readonly Vec3[],
  points: readonly Vec3[],
  radiusMm: number,
): readonly Vec3[] {
  return dabsMm.filter((dab) => points.every((p) => distance(p, dab) > radiusMm));
}

function changeClear(change: (areas: readonly MarkedArea[]) => readonly MarkedArea[]): PlanEdit {
  return (plan: PlanDocument) => ({
    ...plan,
    scan: { ...plan.scan, keepClear: change(plan.scan.keepClear) },
  });
}

function distance(a: Vec3, b: Vec3): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}
