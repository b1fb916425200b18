import type { TablePair } from './assembleResult.ts';
import type { Checkpoint } from './checkpoint.ts';
import { bandFor } from './FieldLadder.ts';
import { growthAt } from './field/growthAt.ts';
import type { Ground } from './layGround.ts';
import type { ShellStep } from './measureShell.ts';
import type { Vec3 } from './mesh/TriMesh.ts';
import { buildWall } from './parting/buildWall.ts';
import { leaveLinesClear } from './parting/leaveLinesClear.ts';
import { regionAreas } from './parting/regionAreas.ts';
import { regionAt } from './parting/regionAt.ts';
import { CROSSED } from './parting/types.ts';
import { ballsOf } from './plan/ballsOf.ts';
import type { PlanDocument } from './plan/PlanDocument.ts';
import type { StepCache } from './StepCache.ts';
import { estimateFlange } from './shell/estimateFlange.ts';
import { estimateTables } from './shell/estimateTables.ts';
import { sampleReach } from './shell/sampleReach.ts';

/** Rulings of the wall that the flange is estimated from, to the flange's thickness. */
const RULINGS_PER_THICKNESS = 1;

/**
 * The shell before any field: amounts by estimate, each with a wide bound. What is not estimated is left out: thin spots,
 * points to check, the load of the casting.
 */
export async function estimateShell(
  plan: PlanDocument,
  ground: Ground,
  innerMm: number,
  outerMm: number,
  cache: StepCache,
  cp: Checkpoint,
): Promise<ShellStep & { readonly shell: TablePair }> {
  const { surface, parting, scanKey, partingKey } = ground;
  const { cut } = parting;
  const farthestMm = bandFor(outerMm);
  const samples = await cache.remember('reach', `${scanKey} ${farthestMm}`, () =>
    sampleReach(surface, farthestMm, cp),
  );
  const keepClear = ballsOf(plan.scan.keepClear);
  const scannedMm2 = await cache.remember('areas', partingKey + JSON.stringify(plan.scan.keepClear), () =>
    regionAreas(cut, keepClear),
  );
  const { tables, doubted } = estimateTables(
    samples,
    scannedMm2,
    wedgesOfRegions(samples.wedgeMm, ground),
    (tri, point) => (cut.triRegion[tri] === CROSSED ? regionAt(surface, cut, point) : cut.triRegion[tri]),
    ([x, y, z]: Vec3) =>
      keepClear.every(({ centreMm: [a, b, c], radiusMm }) => Math.hypot(x - a, y - b, z - c) >= radiusMm),
  );
  return {
    shell: { fine: tables, coarse: doubted, coarser: 'doubted' },
    areasMm2: innerMm === 0 ? scannedMm2 : tables.map((table) => growthAt(table, innerMm)),
    // Bends bound what a field's cells leave out, and there is none.
    bendsMm: scannedMm2.map(() => 0),
    flange: flangeOf(plan, ground, innerMm),
    thin: null,
    probes: [],
    pressure: null,
    wall: null,
  };
}

function flangeOf(
  plan: PlanDocument,
  { scan, surface, parting }: Ground,
  innerMm: number,
): ShellStep['flange'] {
  const { flange } = plan.parting;
  if (flange === null) return null;
  const { widthMm, thicknessMm } = flange;
  const toMm = innerMm + widthMm;
  const stepMm = thicknessMm / RULINGS_PER_THICKNESS;
  const { cut } = parting;
  const chains = leaveLinesClear(parting.chains, ballsOf(plan.scan.keepClear));
  const wall = buildWall(scan.mesh, cut.segments, chains, scan.standsOnBoard, toMm, stepMm, thicknessMm);
  const { tables, doubted } = estimateFlange(surface, wall, cut.regionCount, thicknessMm, toMm);
  return { fine: tables, coarse: doubted, coarser: 'doubted', cellMm: 0 };
}

/** The wedges by region; of a triangle that a line runs through each region has as much as of its parts. */
function wedgesOfRegions(wedgeMm: Float32Array, { parting: { cut } }: Ground): Float64Array {
  const sums = new Float64Array(cut.regionCount);
  const { triRegion, cutTriRegion, cutTriSource } = cut;
  for (let t = 0; t < triRegion.length; t++) if (triRegion[t] >= 0) sums[triRegion[t]] += wedgeMm[t];
  const parts = new Map<number, number>();
  for (const source of cutTriSource) {
    if (triRegion[source] === CROSSED) parts.set(source, (parts.get(source) ?? 0) + 1);
  }
  for (let n = 0; n < cutTriSource.length; n++) {
    const source = cutTriSource[n];
    const count = parts.get(source);
    if (count !== undefined && cutTriRegion[n] >= 0) sums[cutTriRegion[n]] += wedgeMm[source] / count;
  }
  return sums;
}
