import type { Vec3 } from '../../mesh/TriMesh.ts';
import type { LineLoad } from './LineLoad.ts';

export interface SpacedFastener {
  readonly pointMm: Vec3;
  /** What it holds: the pressure's share of its stretch of the line, N. */
  readonly loadN: number;
  /** Its place from the line's beginning, mm. */
  readonly alongMm: number;
}

/** One would be a hinge; a run of a line has its fellows. */
const LEAST_ON_A_LINE = 2;

/**
 * Fasteners along a line, in its order. Where the load rules they stand so that each carries the same share: close where
 * the pressure is high, wide where it is low. Where the load would let them stand farther apart than `mostSpacingMm`, that rules.
 *
 * How: a density of fasteners for each millimetre is the greater of (load there)/(load one is trusted with) and
 * 1/mostSpacingMm; its integral along the line, rounded up, is their number, and they stand in the middles of equal parts of it. As no
 * part holds more than one fastener's worth of either, no load exceeds `workingLoadN` and no gap `mostSpacingMm`; at a line's ends
 * half a gap is left. Cost: points times fasteners at most.
 *
 * @param loadN force that the line holds together, N.
 * Source: own; the spacing of the trade is common practice, no source.
 */
export function spaceFasteners(
  line: LineLoad,
  loadN: number,
  limits: { readonly workingLoadN: number; readonly mostSpacingMm: number },
): SpacedFastener[] {
  const { alongMm, lengthMm } = line;
  const perPressure = line.pressurePaMm > 0 ? loadN / line.pressurePaMm : 0;
  // Without pressure along the line the load is spread evenly over its length.
  const even = line.pressurePaMm > 0 ? 0 : loadN / lengthMm;
  const spots = cutWhereRulesChange(line, (pressure) => pressure * perPressure + even, limits);
  const floor = 1 / limits.mostSpacingMm;
  const count = spots.length;
  const sumAt = new Float64Array(count);
  const heldAt = new Float64Array(count);
  for (let n = 1; n < count; n++) {
    const stepMm = spots[n].alongMm - spots[n - 1].alongMm;
    const density = (spot: Spot): number => Math.max(spot.loadNPerMm / limits.workingLoadN, floor);
    sumAt[n] = sumAt[n - 1] + (stepMm * (density(spots[n - 1]) + density(spots[n]))) / 2;
    heldAt[n] = heldAt[n - 1] + (stepMm * (spots[n - 1].loadNPerMm + spots[n].loadNPerMm)) / 2;
  }
  const total = sumAt[count - 1];
  // A hair off, so that a length of just so many gaps does not get one more by rounding.
  const fasteners = Math.max(line.isRun ? 1 : LEAST_ON_A_LINE, Math.ceil(total * (1 - 1e-12)));
  const out: SpacedFastener[] = [];
  let heldBefore = 0;
  for (let k = 0; k < fasteners; k++) {
    const middle = placeOf((total * (k + 0.5)) / fasteners);
    const held = heldUpTo(placeOf((total * (k + 1)) / fasteners));
    out.push({ pointMm: pointAt(middle), loadN: held - heldBefore, alongMm: middle });
    heldBefore = held;
  }
  return out;

  /** Where along the line the density's integral reaches `sum`. */
  function placeOf(sum: number): number {
    const n = segmentOf(sumAt, sum);
    const stepMm = spots[n].alongMm - spots[n - 1].alongMm;
    const from = Math.max(spots[n - 1].loadNPerMm / limits.workingLoadN, floor);
    const to = Math.max(spots[n].loadNPerMm / limits.workingLoadN, floor);
    return spots[n - 1].alongMm + stepMm * shareOfRamp(from, to, (sum - sumAt[n - 1]) / stepMm);
  }

  function heldUpTo(placeMm: number): number {
    let n = 1;
    while (n < count - 1 && spots[n].alongMm < placeMm) n++;
    const before = spots[n - 1];
    const stepMm = spots[n].alongMm - before.alongMm;
    const share = stepMm > 0 ? Math.min(1, (placeMm - before.alongMm) / stepMm) : 0;
    const here = before.loadNPerMm + share * (spots[n].loadNPerMm - before.loadNPerMm);
    return heldAt[n - 1] + (share * stepMm * (before.loadNPerMm + here)) / 2;
  }

  function pointAt(placeMm: number): Vec3 {
    const n = segmentOf(alongMm, placeMm);
    const stepMm = alongMm[n] - alongMm[n - 1];
    const share = stepMm > 0 ? Math.min(1, (placeMm - alongMm[n - 1]) / stepMm) : 0;
    const at = (k: number): number => {
      const from = line.points[3 * (n - 1) + k];
      return from + share * (line.points[3 * n + k] - from);
    };
    return [at(0), at(1), at(2)];
  }
}

/** A place on the line and the load that it holds for each millimetre. */
interface Spot {
  readonly alongMm: number;
  readonly loadNPerMm: number;
}

/** The line's points, with those at which the rule changes from load to spacing, so that the density is linear between them. */
function cutWhereRulesChange(
  line: LineLoad,
  loadOf: (pressurePa: number) => number,
  limits: { readonly workingLoadN: number; readonly mostSpacingMm: number },
): Spot[] {
  const turn = limits.workingLoadN / limits.mostSpacingMm;
  const spots: Spot[] = [];
  for (let n = 0; n < line.alongMm.length; n++) {
    const here = { alongMm: line.alongMm[n], loadNPerMm: loadOf(line.pressurePa[n]) };
    const before = spots[spots.length - 1];
    if (n > 0 && (before.loadNPerMm - turn) * (here.loadNPerMm - turn) < 0) {
      const share = (turn - before.loadNPerMm) / (here.loadNPerMm - before.loadNPerMm);
      spots.push({
        alongMm: before.alongMm + share * (here.alongMm - before.alongMm),
        loadNPerMm: turn,
      });
    }
    if (n === 0 || here.alongMm > spots[spots.length - 1].alongMm) spots.push(here);
  }
  return spots;
}

/** The first number n from 1 whose rising value is at least `value`: it lies between n - 1 and n. */
function segmentOf(rising: Float64Array, value: number): number {
  let n = 1;
  while (n < rising.length - 1 && rising[n] < value) n++;
  // Points that coincide make a step of nothing; the next one that is long holds the same place.
  while (n < rising.length - 1 && rising[n] === rising[n - 1]) n++;
  return n;
}

/** For a density that grows evenly from `from` to `to` over a step of length 1: the share of the step at which its integral is `sum`. */
function shareOfRamp(from: number, to: number, sum: number): number {
  const slope = to - from;
  // The stable root of slope/2 s^2 + from s = sum, which stays good for a slope of nothing.
  const root = Math.sqrt(Math.max(0, from * from + 2 * slope * sum));
  return Math.min(1, Math.max(0, (2 * sum) / (from + root)));
}
