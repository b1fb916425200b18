import { coatMix } from './material/coatMix.ts';
import type { Vec3 } from './mesh/TriMesh.ts';
import type { RidgeCoat, ThinResult, ThinSpotResult } from './PlanResult.ts';
import type { CoatPlan, PlanDocument } from './plan/PlanDocument.ts';
import { sayBoth } from './sayBoth.ts';
import type { ThinReport, ThinSpot } from './shell/findThinSpots.ts';
import { levelledByMm } from './shell/thicknessOfCoats.ts';
import { formatArea, formatLength, formatMass, formatVolume } from './units.ts';

/** Spots of a piece that are listed one by one: more than these nobody goes round with a brush. Own choice. */
export const MOST_THIN_SPOTS = 8;
/** What the brush lays beside a spot, as a share of what the spot lacks. Own choice. */
export const RIDGE_MARGIN_SHARE = 0.25;
/** Steeper than this a face counts as the top or the underside: cosine of 35 degrees from upright. Own choice. */
const UPRIGHT_COSINE = 0.82;

export interface ThinStep {
  /** By region. */
  readonly reports: readonly ThinReport[];
  /** What levelling fills, by region, mm3; null: nothing is levelled. */
  readonly filledMm3: Float64Array | null;
}

/** Thin spots of a piece, with what would mend them in the shell's own mix. */
export function thinResult(
  plan: PlanDocument,
  { reports, filledMm3 }: ThinStep,
  region: number,
  piece: string,
): ThinResult {
  const { minMm, areaBelowMm2, spots } = reports[region];
  const coat = ridgeCoatOf(plan);
  const massOf = (lackMm3: number): number => (1 + RIDGE_MARGIN_SHARE) * lackMm3 * densityGPerMm3(plan, coat);
  const listed = spots.slice(0, MOST_THIN_SPOTS);
  const sum = (of: readonly ThinSpot[], pick: (spot: ThinSpot) => number): number =>
    of.reduce((total, spot) => total + pick(spot), 0);
  const left = spots.slice(MOST_THIN_SPOTS);
  const restMm3 = sum(left, (spot) => spot.lackMm3);
  const lackMm3 = sum(spots, (spot) => spot.lackMm3);
  const filled = filledMm3?.[region];
  const finish = plan.coats[plan.coats.length - 1];
  return {
    minMm,
    areaBelowMm2,
    levelledByMm: filledMm3 === null ? null : levelledByMm(plan),
    levelling:
      filled === undefined ? null : { volumeMm3: filled, massG: filled * densityGPerMm3(plan, finish) },
    spots: listed.map((spot, n): ThinSpotResult => {
      return {
        id: `${piece}${n + 1}`,
        areaMm2: spot.areaMm2,
        minMm: spot.minMm,
        pointMm: spot.atMm,
        aboveBoardMm: spot.atMm[2],
        side: sideOf(spot.outward),
        lackMm3: spot.lackMm3,
        mostLackMm: spot.mostLackMm,
        massG: massOf(spot.lackMm3),
      };
    }),
    spotCount: spots.length,
    rest: { areaMm2: sum(left, (spot) => spot.areaMm2), lackMm3: restMm3, massG: massOf(restMm3) },
    ridgeCoat: spots.length === 0 ? null : sayRidgeCoat(plan, coat, lackMm3, massOf(lackMm3), areaBelowMm2),
  };
}

function sayRidgeCoat(
  plan: PlanDocument,
  coat: CoatPlan,
  lackMm3: number,
  massG: number,
  areaMm2: number,
): RidgeCoat {
  const volumeMm3 = (1 + RIDGE_MARGIN_SHARE) * lackMm3;
  return {
    coat: coat.name,
    volumeMm3,
    massG,
    marginShare: RIDGE_MARGIN_SHARE,
    ...sayBoth(
      'text',
      (system) =>
        `An extra ridge coat of about ${formatMass(massG, system)} (${formatVolume(volumeMm3, system)}) in the mix of “${coat.name}”, over ${formatArea(areaMm2, system)}, brings these spots to ${formatLength(plan.leastThicknessMm, system)}. ${Math.round(100 * RIDGE_MARGIN_SHARE)}\u00a0% of what they lack is added for what the brush lays beside them. It is not in the totals.`,
    ),
  };
}

/** A ridge is built up with what builds: the last build coat's mix, else the last one's before the finish, else the only one's. */
function ridgeCoatOf({ coats }: PlanDocument): CoatPlan {
  return (
    coats.findLast(({ kind }) => kind === 'build') ??
    coats.findLast(({ kind }) => kind !== 'finish') ??
    coats[coats.length - 1]
  );
}

function densityGPerMm3(plan: PlanDocument, coat: CoatPlan): number {
  return coatMix(plan, coat).mix.densityGPerCm3 / 1000;
}

/** Which way a face looks: its front is at -y, its right at +x (picture/SideView). */
function sideOf([x, y, z]: Vec3): ThinSpotResult['side'] {
  if (z > UPRIGHT_COSINE) return 'top';
  if (z < -UPRIGHT_COSINE) return 'underside';
  if (Math.abs(x) > Math.abs(y)) return x > 0 ? 'right' : 'left';
  return y < 0 ? 'front' : 'back';
}
