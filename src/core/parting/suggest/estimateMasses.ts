import { coatSteps, innerDistanceMm } from '../../assembleResult.ts';
import { coatMix } from '../../material/coatMix.ts';
import { flangeDensity } from '../../material/flangeShares.ts';
import { buildTwins } from '../../mesh/buildTwins.ts';
import { vectorLength } from '../../mesh/vectorLength.ts';
import { writeTriNormal } from '../../mesh/writeNormal.ts';
import { ballsOf } from '../../plan/ballsOf.ts';
import type { PlanDocument } from '../../plan/PlanDocument.ts';
import type { LineChain } from '../chainSegments.ts';
import { leaveLinesClear } from '../leaveLinesClear.ts';
import type { SurfaceContext } from '../SurfaceContext.ts';
import type { CutSurface } from '../types.ts';

/** Edges bent by more are folds of the scan; they count as bent this much. Radians. */
const MOST_BEND_RAD = (5 / 6) * Math.PI;

/**
 * Mass of every piece's coats and flange, g, by region: volumes by the formula of Steiner, V(t) = A t + M t^2 + K t^3 / 3
 * with the surface's area, half the sum of edge length times bend, and the sum of the angle defects (Cohen-Steiner &
 * Morvan 2003). Exact on convex bodies; where coats grow together in hollows it is high, by a percent or some.
 *
 * The flange's wall by its length, and by how it fans out over ridges and draws together over hollows.
 *
 * @param surface that the lines were laid on. @param areasMm2 by region; better ones than the cut's own, when the cut is of a simplified surface.
 * Cost: O(triangles).
 */
export function estimateMasses(
  surface: SurfaceContext,
  cut: CutSurface,
  chains: readonly LineChain[],
  areasMm2: ArrayLike<number>,
  plan: PlanDocument,
): Float64Array {
  const { bendMm, defect } = measureSteiner(cut);
  const innerMm = innerDistanceMm(plan);
  const steps = coatSteps(plan.coats);
  const outerMm = steps[steps.length - 1].toMm;
  const masses = new Float64Array(cut.regionCount);
  for (let r = 0; r < cut.regionCount; r++) {
    const volumeTo = (t: number): number => areasMm2[r] * t + bendMm[r] * t * t + (defect[r] * t ** 3) / 3;
    for (const { coat, fromMm, toMm } of steps) {
      const volumeMm3 = Math.max(0, volumeTo(innerMm + toMm) - volumeTo(innerMm + fromMm));
      masses[r] += (coatMix(plan, coat).mix.densityGPerCm3 / 1000) * volumeMm3;
    }
  }
  const { flange } = plan.parting;
  if (flange && flange.widthMm > outerMm) {
    const from = innerMm + outerMm;
    const to = innerMm + flange.widthMm;
    for (const chain of leaveLinesClear(chains, ballsOf(plan.scan.keepClear))) {
      // The wall fans out where the rubber bends along the line: at the distance d it is longer by d times the turn.
      const wallMm2 =
        chain.lengthMm * (to - from) + (turnAlong(surface, cut, chain) * (to * to - from * from)) / 2;
      const massG = flangeDensity(plan).wetGPerMm3 * flange.thicknessMm * Math.max(0, wallMm2);
      masses[chain.left] += massG;
      masses[chain.right] += massG;
    }
  }
  return masses;
}

/** By how much the rubber's normal turns along a line, radians; ridges positive. */
function turnAlong(surface: SurfaceContext, { segments }: CutSurface, chain: LineChain): number {
  const before = new Float64Array(3);
  const now = new Float64Array(3);
  let turn = 0;
  for (let i = 0; i < chain.segments.length; i++) {
    const length = writeTriNormal(surface, segments.tri[chain.segments[i]], now) || 1;
    for (let k = 0; k < 3; k++) now[k] /= length;
    if (i > 0) {
      const q = chain.points;
      let along = 0;
      let apart = 0;
      let step = 0;
      for (let k = 0; k < 3; k++) {
        // Over both segments: the way past the edge between them.
        const way = q[3 * (i + 1) + k] - q[3 * (i - 1) + k];
        along += (now[k] - before[k]) * way;
        apart += (now[k] - before[k]) ** 2;
        step += way * way;
      }
      // The share of the bend that lies in the line's direction, as an angle: a chord c of the unit circle spans 2 asin(c/2).
      const chord = Math.sqrt(apart);
      if (chord > 1e-9 && step > 0)
        turn += (2 * Math.asin(Math.min(1, chord / 2)) * along) / (chord * Math.sqrt(step));
    }
    before.set(now);
  }
  return turn;
}

/** By region: half the sum of edge length times bend (ridges positive), mm, an edge between two regions half to each; and the angle defects inside. */
function measureSteiner(cut: CutSurface): { bendMm: Float64Array; defect: Float64Array } {
  const { positions: p, indices, cutTriRegion, regionCount } = cut;
  const { twins } = buildTwins(indices);
  const count = indices.length / 3;
  const normals = new Float64Array(3 * count);
  const normal = new Float64Array(3);
  for (let t = 0; t < count; t++) {
    const twice = writeTriNormal(cut, t, normal) || 1;
    for (let k = 0; k < 3; k++) normals[3 * t + k] = normal[k] / twice;
  }
  const bendMm = new Float64Array(regionCount);
  const angleSum = new Float64Array(p.length / 3);
  const angles = new Float64Array(indices.length);
  const isBorder = new Uint8Array(p.length / 3);
  for (let h = 0; h < indices.length; h++) {
    const t = Math.floor(h / 3);
    const a = 3 * indices[h];
    const b = 3 * indices[h % 3 === 2 ? h - 2 : h + 1];
    const c = 3 * indices[h % 3 === 0 ? h + 2 : h - 1];
    const ex = p[b] - p[a];
    const ey = p[b + 1] - p[a + 1];
    const ez = p[b + 2] - p[a + 2];
    const fx = p[c] - p[a];
    const fy = p[c + 1] - p[a + 1];
    const fz = p[c + 2] - p[a + 2];
    const length = vectorLength(ex, ey, ez);
    const cross = vectorLength(ey * fz - ez * fy, ez * fx - ex * fz, ex * fy - ey * fx);
    angles[h] = Math.atan2(cross, ex * fx + ey * fy + ez * fz);
    angleSum[indices[h]] += angles[h];
    const o = twins[h];
    if (o < 0) {
      isBorder[indices[h]] = 1;
      isBorder[b / 3] = 1;
      continue;
    }
    const u = Math.floor(o / 3);
    const cosine =
      normals[3 * t] * normals[3 * u] +
      normals[3 * t + 1] * normals[3 * u + 1] +
      normals[3 * t + 2] * normals[3 * u + 2];
    // The far corner of the neighbour lies below this face's plane on a ridge.
    const far = 3 * indices[o % 3 === 0 ? o + 2 : o - 1];
    const above =
      normals[3 * t] * (p[far] - p[a]) +
      normals[3 * t + 1] * (p[far + 1] - p[a + 1]) +
      normals[3 * t + 2] * (p[far + 2] - p[a + 2]);
    const bend = Math.min(MOST_BEND_RAD, Math.acos(Math.min(1, Math.max(-1, cosine))));
    // Both half-edges come by: a quarter of length times bend each.
    bendMm[cutTriRegion[t]] += ((above < 0 ? 1 : -1) * length * bend) / 4;
  }
  const defect = new Float64Array(regionCount);
  for (let h = 0; h < indices.length; h++) {
    const v = indices[h];
    if (isBorder[v] || angleSum[v] === 0) continue;
    defect[cutTriRegion[Math.floor(h / 3)]] += ((2 * Math.PI - angleSum[v]) * angles[h]) / angleSum[v];
  }
  return { bendMm, defect };
}
