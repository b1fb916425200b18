import { PlanError } from '../errors.ts';
import type { Vec3 } from '../mesh/TriMesh.ts';
import type { PartingPlan, PiecePlan } from '../plan/PlanDocument.ts';
import { pullsOf } from './firstLines.ts';
import { measureRegions, type RegionFacing } from './measureRegions.ts';
import { pullForRegions } from './pullForRegions.ts';
import { regionAt } from './regionAt.ts';
import type { SurfaceContext } from './SurfaceContext.ts';
import type { CutSurface } from './types.ts';

/** A pull this near to vertical (cosine) makes the piece a top. */
const TOP_COSINE = 0.9;

/**
 * Id, name and unit pull of every region, by region. Ids are A, B, C ... in the order of the regions. A name and a pull
 * come from the plan's piece whose anchor lies in the region; else the pull is one of `firstPulls` or of the plan's
 * azimuths (each given to the region that faces it most), else the region's default, and the name says where the piece
 * goes: front is -y, as seen from the front view, right +x, top up.
 *
 * @throws PlanError 'bad-pull' when a piece's pull has no length.
 */
export function nameRegions(
  surface: SurfaceContext,
  cut: CutSurface,
  plan: PartingPlan,
  firstPulls: readonly Vec3[] | null,
): { readonly id: string; readonly name: string; readonly pull: Vec3 }[] {
  const facings = measureRegions(surface, cut);
  const given = anchoredPieces(surface, cut, plan.pieces);
  const azimuths = plan.pullAzimuthsDeg;
  const wanted =
    firstPulls ??
    (azimuths !== 'auto' && (azimuths.length === 1 || azimuths.length === cut.regionCount)
      ? pullsOf(azimuths, cut.regionCount)
      : null);
  const pulls =
    wanted !== null && wanted.length === cut.regionCount
      ? assignPulls(facings, wanted)
      : pullForRegions(facings, surface.standsOnBoard);
  const final = pulls.map((pull, i) => unitPull(given[i]?.pull ?? pull));
  const names = namesByDirection(final);
  return final.map((pull, i) => ({ id: idOf(i), name: given[i]?.name || names[i], pull }));
}

/** A ... Z, then A2 ... Z2 and so on. */
function idOf(i: number): string {
  const letter = String.fromCharCode(65 + (i % 26));
  return i < 26 ? letter : `${letter}${Math.floor(i / 26) + 1}`;
}

/** By region: the first of the plan's pieces whose anchor lies in it. */
function anchoredPieces(
  surface: SurfaceContext,
  cut: CutSurface,
  pieces: readonly PiecePlan[],
): (PiecePlan | undefined)[] {
  const byRegion: (PiecePlan | undefined)[] = new Array(cut.regionCount).fill(undefined);
  for (const piece of pieces) {
    const region = regionAt(surface, cut, piece.anchorMm);
    byRegion[region] ??= piece;
  }
  return byRegion;
}

/** Each pull to a region, the pairs that face each other best first. */
function assignPulls(facings: readonly RegionFacing[], pulls: readonly Vec3[]): Vec3[] {
  const pairs = facings.flatMap((facing, region) =>
    pulls.map((pull, k) => ({ region, k, facing: dot(facing.areaVector, pull) / facing.areaMm2 })),
  );
  pairs.sort((a, b) => b.facing - a.facing || a.region - b.region || a.k - b.k);
  const out: (Vec3 | undefined)[] = new Array(facings.length).fill(undefined);
  const used = new Set<number>();
  for (const { region, k } of pairs) {
    if (out[region] || used.has(k)) continue;
    out[region] = pulls[k];
    used.add(k);
  }
  return out.map((pull) => pull ?? [0, 0, 1]);
}

function unitPull(pull: Vec3): Vec3 {
  const length = Math.hypot(...pull);
  if (!(length > 0 && Number.isFinite(length))) {
    throw new PlanError('bad-pull', `A pull of (${pull.join(', ')}) has no direction.`, 'parting.pieces');
  }
  return [pull[0] / length, pull[1] / length, pull[2] / length];
}

function namesByDirection(pulls: readonly Vec3[]): string[] {
  if (pulls.length === 1) return ['whole'];
  const names = pulls.map((pull) => {
    if (pull[2] > TOP_COSINE) return 'top';
    if (pull[2] < -TOP_COSINE) return 'bottom';
    const deg = (Math.atan2(pull[1], pull[0]) * 180) / Math.PI;
    if (deg > -45 && deg <= 45) return 'right';
    if (deg > 45 && deg <= 135) return 'back';
    if (deg > -135 && deg <= -45) return 'front';
    return 'left';
  });
  // Two of the same name are told apart by a number, in the order of the regions.
  return names.map((name, i) => {
    if (names.filter((other) => other === name).length === 1) return name;
    return `${name} ${names.slice(0, i + 1).filter((other) => other === name).length}`;
  });
}

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
