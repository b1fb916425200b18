import type { Vec3 } from '../core/mesh/TriMesh.ts';
import type { Suggestion } from '../core/parting/suggest/Suggestion.ts';
import type { MarkedArea, PartingPlan } from '../core/plan/PlanDocument.ts';
import { freeAreaName } from './freeAreaName.ts';
import type { PlanEdit } from './SessionStore.ts';

/** Radius of a new area that suggested lines avoid, mm: about a small face or a line of lettering. Own choice. */
export const FIRST_AVOID_RADIUS_MM = 30;

const changeParting =
  (change: (parting: PartingPlan) => Partial<PartingPlan>): PlanEdit =>
  (plan) => ({ ...plan, parting: { ...plan.parting, ...change(plan.parting) } });

/** How far the rubber yields, mm; less than nothing is left unheard. */
export const setRubberGive = (rubberGiveMm: number): PlanEdit =>
  changeParting(() => (rubberGiveMm >= 0 && Number.isFinite(rubberGiveMm) ? { rubberGiveMm } : {}));

/** One more area that suggested lines keep out of, round a point of the rubber. */
export const addNotHere = (centreMm: Vec3): PlanEdit =>
  changeParting(({ notHere }) => ({
    notHere: [
      ...notHere,
      { name: freeAreaName('Not here', notHere), radiusMm: FIRST_AVOID_RADIUS_MM, dabsMm: [centreMm] },
    ],
  }));

/** Renames such an area or gives it another radius; a radius of zero or less is left unheard. */
export const changeNotHere = (
  index: number,
  change: Partial<Pick<MarkedArea, 'name' | 'radiusMm'>>,
): PlanEdit =>
  changeParting(({ notHere }) =>
    change.radiusMm === undefined || change.radiusMm > 0
      ? { notHere: notHere.map((area, i) => (i === index ? { ...area, ...change } : area)) }
      : {},
  );

export const removeNotHere = (index: number): PlanEdit =>
  changeParting(({ notHere }) => ({ notHere: notHere.filter((_, i) => i !== index) }));

/** Filler in every spot that locks deeper than the rubber yields. */
export const fillAllSpots = (): PlanEdit => changeParting(() => ({ blockOut: 'all' }));

/** Filler in one more spot, told by its deepest point. With all filled already there is nothing to add. */
export const fillSpot = (atMm: Vec3): PlanEdit =>
  changeParting(({ blockOut }) => (blockOut === 'all' ? {} : { blockOut: [...blockOut, atMm] }));

/**
 * Takes the filler of one spot back. `filledMm` are the deepest points of all that is filled now: where all was accepted
 * at once, the others stay filled one by one. Else the accepted point nearest to the spot goes.
 */
export const emptySpot = (atMm: Vec3, filledMm: readonly Vec3[]): PlanEdit =>
  changeParting(({ blockOut }) => {
    const accepted = blockOut === 'all' ? filledMm : blockOut;
    const nearest = nearestIndex(accepted, atMm);
    return { blockOut: accepted.filter((_, i) => i !== nearest) };
  });

export const takeFillerBack = (): PlanEdit => changeParting(() => ({ blockOut: [] }));

/**
 * The suggestion's lines and pieces become the plan's own, to be edited like drawn ones. Filler that was accepted for the
 * pulls before is taken back: the figures told beside a suggestion are without any.
 */
export const takeSuggestion = ({
  lines,
  planPieces,
  pieces,
}: Pick<Suggestion, 'lines' | 'planPieces' | 'pieces'>): PlanEdit =>
  changeParting(() => ({
    pieceCount: pieces.length,
    pullAzimuthsDeg: 'auto',
    lines,
    pieces: planPieces,
    blockOut: [],
  }));

function nearestIndex(points: readonly Vec3[], to: Vec3): number {
  let nearest = -1;
  let least = Number.POSITIVE_INFINITY;
  points.forEach((p, i) => {
    const distance = Math.hypot(p[0] - to[0], p[1] - to[1], p[2] - to[2]);
    if (distance < least) {
      least = distance;
      nearest = i;
    }
  });
  return nearest;
}
